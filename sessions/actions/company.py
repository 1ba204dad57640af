"""The key that a session's zones and people are booked under: its own, or the one that it shares with others."""

from uuid import UUID

from sessions.models import SessionStaff, SessionZone, Together, TrainingSession
from sessions.queries.together import key_of, members_of


def rekey(session: TrainingSession, key: UUID) -> None:
    """Book what a session holds under another key. The constraints refuse what nobody shares any more."""
    SessionZone.objects.filter(session=session).update(together=key)
    SessionStaff.objects.filter(session=session).update(together=key)


def leave(session: TrainingSession) -> None:
    """A session goes its own way; the last one that is left behind is alone again too."""
    row = Together.objects.filter(session=session).first()
    if row is None:
        return
    row.delete()
    rekey(session, session.public_id)
    left = members_of(row.key)
    if len(left) == 1:
        Together.objects.filter(session=left[0]).delete()
        rekey(left[0], left[0].public_id)


def leave_if_apart(session: TrainingSession) -> None:
    """A session that was moved away from those that it was together with is alone again."""
    others = [each for each in members_of(key_of(session)) if each.pk != session.pk]
    if not any(_meet(session, each) for each in others):
        leave(session)


def _meet(one: TrainingSession, other: TrainingSession) -> bool:
    return bool(one.period.lower < other.period.upper and other.period.lower < one.period.upper)
