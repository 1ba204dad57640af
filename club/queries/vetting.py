"""Who counts as an adult on a day. Plain Python: rows, and the plain rows of a session, are asked the same way."""

from datetime import date
from typing import Literal

NotCounted = Literal["under_18", "no_vetting", "vetting_over"]
SOON_DAYS = 60  # so long before a date runs out the director is told; new vetting takes weeks (common practice, no source)


def why_not_counted(*, of_age: bool, vetting_until: date | None, day: date) -> NotCounted | None:
    """Why somebody does not count towards the adults of a day: 18 or over, with vetting that holds on it. None: counts.

    A date is the last day on which the vetting holds.
    """
    if vetting_until is None:
        return "no_vetting"
    if not of_age:
        return "under_18"
    return "vetting_over" if vetting_until < day else None
