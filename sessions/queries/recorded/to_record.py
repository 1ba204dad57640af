"""Which sessions are over and wait to be recorded."""

from datetime import datetime, timedelta

from sessions.choices import STILL_TO_COME, TOOK_PLACE
from sessions.models import TrainingSession

# The evening and the next morning: how hard it was is best said half an hour after the end, and not remembered for days (a
# judgement, no source).
ASKED_FOR = timedelta(hours=16)


def is_to_be_recorded(session: TrainingSession, now: datetime) -> bool:
    """Whether it ended within the last hours and nobody said yet whether it took place, or how hard it was. No query."""
    ended = session.period.upper
    if not ended < now <= ended + ASKED_FOR:
        return False
    return session.state in STILL_TO_COME or (session.state in TOOK_PLACE and not _is_rated(session))


def is_over(session: TrainingSession, now: datetime) -> bool:
    """Whether its time has passed."""
    return bool(session.period.upper < now)


def _is_rated(session: TrainingSession) -> bool:
    return any(
        each["part"] is None and each["player"] is None for each in session.delivery.get("ratings", [])
    )
