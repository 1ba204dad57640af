"""What lets a helper in: the code on the sheet, the number that the coach tells, and the pass of a phone that gave it.

None of them is stored: they follow from the session and the installation's secret key, so that every sheet of a session
has the same code, and a copy of the database opens nothing. All end three hours after the session, but for sending what happened until then.
"""

import re
import secrets
from base64 import urlsafe_b64decode, urlsafe_b64encode
from datetime import datetime
from uuid import UUID

from django.core import signing
from django.http import Http404
from django.utils import timezone
from django.utils.crypto import constant_time_compare, salted_hmac

from club import lasting
from club import queries as club
from sessions.choices import State
from sessions.models import TrainingSession
from sessions.queries.rows import session_by_id

_TAG_BYTES = 16  # 128 bits that nobody guesses
_CODE = re.compile(r"[\w-]{43}", re.ASCII)  # 16 bytes of the session's outer id, 16 of the tag
_NUMBERS = 10_000


def open_until(session: TrainingSession) -> datetime:
    """When code, number and passes end."""
    ends: datetime = session.period.upper
    return ends + lasting.HELPERS_NUMBER


def sends_until(session: TrainingSession) -> datetime:
    """When a phone with a pass has sent what it recorded, or never will."""
    ends: datetime = session.period.upper
    return ends + lasting.HELPERS_SENDING


def is_open(session: TrainingSession) -> bool:
    """Whether the code opens anything."""
    return timezone.now() < open_until(session)


def takes_number(session: TrainingSession) -> bool:
    """Whether a number opens the clock: on the club's day of the session until three hours after its end."""
    return is_open(session) and club.today() >= session.day and session.state != State.CANCELLED


def code_of(session: TrainingSession) -> str:
    """The code on the sheet. A session that is moved keeps it, so that a sheet printed before opens it all the same."""
    return _code(session.public_id)


def session_of_code(code: str, *, to_send: bool = False) -> TrainingSession:
    """The session that a code opens now, or to which phones may still send. Raises Http404 for a code that was never made or
    has ended, without telling them apart; a code that is none costs no query."""
    public_id = _named(code)
    session = session_by_id(public_id) if public_id else None
    if session is None or timezone.now() >= (sends_until(session) if to_send else open_until(session)):
        raise Http404
    return session


def number_of(session: TrainingSession) -> str:
    """The four digits for tonight: others on another day, and whenever the coach asks for another number."""
    drawn = salted_hmac("sessions.helping.number", _tonight(session), algorithm="sha256").digest()
    return f"{int.from_bytes(drawn, 'big') % _NUMBERS:04d}"


def is_number(session: TrainingSession, given: str) -> bool:
    """Whether these are tonight's digits; compared in constant time."""
    return constant_time_compare(number_of(session), given)


def new_pass(session: TrainingSession) -> str:
    """A pass for one more phone, under a name that is drawn for it."""
    return signing.dumps(secrets.token_hex(4), salt=_salt(session))


def phone_of(session: TrainingSession, given: str) -> str:
    """The phone that a pass was made for; empty for none, a forged one, one of another session, day or number."""
    try:
        return str(signing.loads(given, salt=_salt(session)))
    except signing.BadSignature:
        return ""


def _code(public_id: UUID) -> str:
    tag = salted_hmac("sessions.helping.code", str(public_id), algorithm="sha256").digest()[:_TAG_BYTES]
    return urlsafe_b64encode(public_id.bytes + tag).decode().rstrip("=")


def _named(code: str) -> UUID | None:
    """The session that a code names, where the code is its own."""
    if not _CODE.fullmatch(code):
        return None
    public_id = UUID(bytes=urlsafe_b64decode(code + "=")[:16])
    return public_id if constant_time_compare(code, _code(public_id)) else None


def _tonight(session: TrainingSession) -> str:
    return f"{session.public_id}.{session.day}.{session.helper_turn}"


def _salt(session: TrainingSession) -> str:
    return f"sessions.helping.pass.{_tonight(session)}"
