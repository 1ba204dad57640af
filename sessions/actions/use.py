"""A drill from the library, set up for typed numbers: run at once, or put into a session."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club import queries as club
from club.actions import action
from club.actor import Actor
from club.errors import Refused
from drills import queries as drills
from drills.game.document import Work
from drills.game.evening import Evening
from drills.game.variations import played
from sessions.actions.booking import DayAndTimes, ZonesAndStaff, plan_session
from sessions.actions.parts import PartInput, StationInput, parts_as_input, save_parts
from sessions.actions.setups import fitted, put_setup
from sessions.choices import PartKind, kind_of_activity
from sessions.models import Station, TrainingSession
from sessions.planning.order import filled_by, usual_changeover_s
from sessions.planning.rounds import on_the_clock, usual_rounds
from sessions.queries.evening import evening_typed
from sessions.queries.rows import session_by_id

AROUND_MIN = 10  # to lay it and to clear it, where a drill is run without a session around it


@dataclass(frozen=True)
class Wanted:
    """A drill in one of its variations, the numbers that were typed (None: nobody said), and the answer that was chosen."""

    drill_id: UUID
    variation_key: str
    players: int
    keepers: int | None = None
    adults: int | None = None
    length_m: float | None = None
    width_m: float | None = None
    numbers: str = ""
    grids: int = 0


@action
def run_now(*, actor: Actor, squad: Any, wanted: Wanted, now: datetime) -> TrainingSession:
    """A session of this drill alone that begins now (the club's wall clock), led by whoever asks, on no booked ground.

    Raises Refused where the drill does not run with these numbers for this team, or no time is left today, and Clash
    where whoever asks leads another session at this time.
    """
    found = drills.document_for(actor, wanted.drill_id)
    minutes = played(found.document, wanted.variation_key).work.minutes + AROUND_MIN
    starts = now.replace(second=0, microsecond=0)
    ends = starts + timedelta(minutes=minutes)
    if ends.date() != starts.date():
        raise Refused(_("It would run past midnight. Plan it for tomorrow."))
    session = plan_session(
        age_group_id=squad.age_group_id,
        squad_id=squad.pk,
        when=DayAndTimes(starts.date(), starts.time(), ends.time()),
        place=ZonesAndStaff(staff_ids=(actor.user_id,) if actor.user_id else ()),
        title=found.document.title,
        players_expected=wanted.players,
    )
    add_drill(actor=actor, session=session, version=session.version, wanted=wanted)
    return session


@action
def add_drill(*, actor: Actor, session: TrainingSession, version: int, wanted: Wanted) -> Station:
    """Put a drill into a session, set up for the numbers that were typed: into a part that waits for one, by
    `sessions.planning.order.filled_by`, else at the end as a part of its own.

    The answer that was chosen is kept where it holds for this team's ages and ground, else the nearest one. Raises Stale,
    and Refused with the reasons where there is none.
    """
    found = drills.document_for(actor, wanted.drill_id)
    document = played(found.document, wanted.variation_key)
    before, kind = parts_as_input(session), kind_of_activity(document.activity.value)
    waits = [not each.title and not any(station.drill_id for station in each.stations) for each in before]
    at = filled_by([each.kind for each in before], waits, kind)
    station = StationInput(wanted.drill_id, wanted.variation_key, keep_revision=False)
    if at is None:
        at, parts = len(before), [*before, _part_of_its_own(len(before), kind, document.work, station)]
    else:
        parts = [*before[:at], _filled(before[at], document.work, station), *before[at + 1 :]]
    save_parts(actor=actor, session=session, version=version, parts=parts)
    saved = session_by_id(session.public_id)
    assert saved is not None
    row = list(saved.parts.all())[at].stations.all()[0]
    _set_up(row, evening_of_wanted(saved, wanted), wanted)
    return row


def _part_of_its_own(position: int, kind: PartKind, work: Work, station: StationInput) -> PartInput:
    rounds = usual_rounds(work.minutes, work.bouts, work.bout_s, work.rest_s)
    return PartInput(
        kind=kind,
        minutes=work.minutes,
        bouts=rounds.bouts,
        bout_s=rounds.bout_s,
        rest_s=rounds.rest_s,
        changeover_s=usual_changeover_s(position, club.club_settings().changeover_s),
        effort=work.effort,
        stations=(station,),
    )


def _filled(part: PartInput, work: Work, station: StationInput) -> PartInput:
    """A part that waited keeps its kind, its minutes and its changeover: they are the session's, not the drill's."""
    usual = usual_rounds(work.minutes, work.bouts, work.bout_s, work.rest_s)
    rounds = on_the_clock(part.minutes, usual.bout_s, usual.rest_s)
    return replace(
        part,
        bouts=rounds.bouts,
        bout_s=rounds.bout_s,
        rest_s=rounds.rest_s,
        effort=work.effort,
        stations=(station,),
    )


def evening_of_wanted(session: TrainingSession, wanted: Wanted) -> Evening:
    """The session's evening with what was typed on the drill's page. Raises Refused with what is wrong."""
    return evening_typed(
        session,
        players=wanted.players,
        keepers=wanted.keepers,
        adults=wanted.adults,
        length_m=wanted.length_m,
        width_m=wanted.width_m,
    )


def _set_up(station: Station, evening: Evening, wanted: Wanted) -> None:
    if put_setup(station, evening, numbers=wanted.numbers, grids=wanted.grids):
        return
    best = fitted(station, evening)[0]
    put_setup(station, evening, numbers=best.numbers, grids=best.grids)
