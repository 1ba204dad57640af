"""Changes to several sessions at once, since a pitch is lost: all that belong together, or none."""

from collections.abc import Sequence
from dataclasses import dataclass

from club.actions import action, lock_rows
from sessions.actions.booking import cancel_session, change_session
from sessions.actions.frames import DayAndTimes, ZonesAndStaff
from sessions.choices import WhyCancelled
from sessions.models import TrainingSession
from sessions.queries.rows import staff_rows_of


@dataclass(frozen=True)
class MendStep:
    """A session as it was read, and when and where it is from now on; `when` None: it is off."""

    session: TrainingSession
    when: DayAndTimes | None
    zone_ids: tuple[int, ...] = ()


@action
def mend_sessions(*, steps: Sequence[MendStep]) -> None:
    """Do the steps in their order. Raises Refused, Stale, Clash, AskFirst: then nothing has changed."""
    lock_rows(TrainingSession.objects.filter(pk__in=[each.session.pk for each in steps]))
    for step in steps:
        session = step.session
        if step.when is None:
            cancel_session(session=session, version=session.version, why=WhyCancelled.PITCH)
            continue
        staff = tuple(int(each["pk"]) for each in staff_rows_of(session))  # who leads, first
        change_session(
            session=session,
            version=session.version,
            when=step.when,
            place=ZonesAndStaff(step.zone_ids, staff),
            title=session.title,
            theme_id=session.theme_id,
            players_expected=session.players_expected,
            note=session.note,
        )
