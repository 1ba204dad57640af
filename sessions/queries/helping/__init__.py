"""A helper without an account: what opens a session for their phone, and what that phone is told."""

from sessions.queries.helping.keys import (
    code_of,
    is_number,
    is_open,
    new_pass,
    number_of,
    open_until,
    phone_of,
    sends_until,
    session_of_code,
    takes_number,
)
from sessions.queries.helping.news import HELPERS_SEND, happened_for_helpers, helped, sent_by_helpers

__all__ = [
    "HELPERS_SEND",
    "code_of",
    "happened_for_helpers",
    "helped",
    "is_number",
    "is_open",
    "new_pass",
    "number_of",
    "open_until",
    "phone_of",
    "sends_until",
    "sent_by_helpers",
    "session_of_code",
    "takes_number",
]
