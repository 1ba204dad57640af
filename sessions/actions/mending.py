"""Changes to several sessions at once, since a pitch is lost or a coach is away: all that belong together, or none."""

from collections.abc import Sequence
from dataclasses import dataclass

from club.actions import action, lock_rows
from club.actor import Actor
from sessions.actions.booking import cancel_session, put_session
from sessions.actions.frames import NOWHERE, DayAndTimes, ZonesAndStaff
from sessions.actions.together import put_together
from sessions.choices import WhyCancelled
from sessions.models import TrainingSession
from sessions.queries.mending.cover import SessionCover
from sessions.queries.mending.ground import GroundStep
from sessions.queries.rows import staff_rows_of, zones_of


@dataclass(frozen=True)
class MendStep:
    """A session as it was read, when it is, and where and with whom, from now on; `when` None: it is off.

    `host` is the session that it joins.
    """

    session: TrainingSession
    when: DayAndTimes | None
    place: ZonesAndStaff = NOWHERE
    host: TrainingSession | None = None


def pitch_step(step: GroundStep) -> MendStep:
    """What is done for a change of ground: the same people, on other spaces or at another time."""
    when = None if step.is_off else DayAndTimes(step.day, step.starts, step.ends)
    people = tuple(int(each["pk"]) for each in staff_rows_of(step.session))  # who leads, first
    return MendStep(step.session, when, ZonesAndStaff(tuple(each.pk for each in step.zones), people))


def cover_step(step: SessionCover) -> MendStep:
    """What is done where somebody is away: the same spaces, with other people, or for a shorter time."""
    when = None if step.is_off else DayAndTimes(step.session.day, step.starts, step.ends)
    spaces = tuple(int(each["pk"]) for each in zones_of(step.session))
    return MendStep(step.session, when, ZonesAndStaff(spaces, step.people), step.host)


@action
def mend_sessions(*, actor: Actor, steps: Sequence[MendStep], why: WhyCancelled) -> None:
    """Do the steps in their order, `why` for those that are off. Raises Refused, Stale, Clash, AskFirst: nothing has changed then."""
    lock_rows(TrainingSession.objects.filter(pk__in=[each.session.pk for each in steps]))
    for step in steps:
        session = step.session
        if step.when is None:
            cancel_session(session=session, version=session.version, why=why)
            continue
        saved = put_session(session=session, version=session.version, when=step.when, place=step.place)
        if step.host is not None:
            put_together(
                actor=actor, session=saved, version=saved.version, other=step.host, share_people=True
            )
