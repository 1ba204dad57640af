"""Changes to several sessions at once, since a pitch is lost or a coach is away: all that belong together, or none."""

from collections.abc import Sequence
from dataclasses import dataclass

from club.actions import action, lock_rows
from club.actor import Actor
from sessions.actions.booking import cancel_session, change_session
from sessions.actions.frames import DayAndTimes, ZonesAndStaff
from sessions.actions.together import put_together
from sessions.choices import WhyCancelled
from sessions.models import TrainingSession
from sessions.queries.rows import staff_rows_of, zones_of


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


@dataclass(frozen=True)
class CoverStep:
    """A session as it was read, when it is and who is down for it from now on, the leader first; `when` None: it is off.

    `host` is the session that it joins.
    """

    session: TrainingSession
    when: DayAndTimes | None
    staff_ids: tuple[int, ...] = ()
    host: TrainingSession | None = None


@action
def cover_sessions(*, actor: Actor, steps: Sequence[CoverStep]) -> None:
    """Do the steps in their order. Raises Refused, Stale, Clash, AskFirst: then nothing has changed."""
    lock_rows(TrainingSession.objects.filter(pk__in=[each.session.pk for each in steps]))
    for step in steps:
        session = step.session
        if step.when is None:
            cancel_session(session=session, version=session.version, why=WhyCancelled.STAFF)
            continue
        saved = change_session(
            session=session,
            version=session.version,
            when=step.when,
            place=ZonesAndStaff(tuple(int(each["pk"]) for each in zones_of(session)), step.staff_ids),
            title=session.title,
            theme_id=session.theme_id,
            players_expected=session.players_expected,
            note=session.note,
        )
        if step.host is not None:
            put_together(
                actor=actor, session=saved, version=saved.version, other=step.host, share_people=True
            )
