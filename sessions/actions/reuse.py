"""Using a session again: to another age group, over the next weeks, into a hall, onto half the space."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import FieldProblem, Refused
from drills import queries as drills
from sessions import queries
from sessions.actions.booking import DayAndTimes, ZonesAndStaff, plan_session
from sessions.actions.parts import PartInput, StationInput, parts_as_input, replace_parts, save_parts
from sessions.bridge import evening_as_kept, setup_as_kept
from sessions.choices import PartKind
from sessions.models import Station, TrainingSession
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit import Fitted, Refit, Target, one_up
from sessions.queries import reuse
from sessions.queries.reuse import Taken

MOST_WEEKS = 8
LONGEST_PLACE = 80  # characters
MOST_USED_AGAIN = 5  # times that a session keeps of what became different
WEEK = timedelta(days=7)


@action
def copy_refitted(
    *,
    actor: Actor,
    source: TrainingSession,
    target: Target,
    when: DayAndTimes,
    place: ZonesAndStaff,
    harder: bool = False,
    **frame: Any,
) -> tuple[TrainingSession, tuple[PlanningReason, ...]]:
    """Plan a session with the parts of one that is there, fitted anew, one of them one step `harder`; and what changed."""
    found = reuse.taken(source, target, actor=actor, harder=harder)
    session = plan_session(when=when, place=place, **frame)
    replace_parts(
        actor=actor, locked=session, parts=_loose(_refitted_parts(source, found), with_adults=False)
    )
    rows = Station.objects.filter(part__session=session).order_by("part__position", "position")
    keep_setups([each.public_id for each in rows], found)
    return note_changes(session, found, source=source), found.changes


@action
def refit_session(
    *, actor: Actor, session: TrainingSession, version: int, target: Target
) -> tuple[TrainingSession, tuple[PlanningReason, ...]]:
    """Fit every part of a session anew, in its place; a drill that can't be played leaves its part empty."""
    found = reuse.taken(session, target, actor=actor)
    saved = save_parts(actor=actor, session=session, version=version, parts=_refitted_parts(session, found))
    keep_setups([each.key for part in found.parts for each in part.stations if each.key], found)
    return note_changes(saved, found), found.changes


def _refitted_parts(session: TrainingSession, found: Taken) -> list[PartInput]:
    by_part = {each.part: each for each in found.parts}
    return [_refitted(each, by_part[str(each.public_id)]) for each in parts_as_input(session)]


def _refitted(part: PartInput, found: Refit) -> PartInput:
    stations = {each.key: each for each in found.stations}
    return replace(
        part,
        minutes=found.minutes,
        bouts=found.bouts,
        bout_s=found.bout_s,
        rest_s=found.rest_s,
        effort=found.cr10,
        stations=tuple(_station(each, stations[str(each.public_id)]) for each in part.stations),
    )


def _station(station: StationInput, found: Fitted) -> StationInput:
    station = replace(station, place=found.place[:LONGEST_PLACE])
    if found.is_out:
        return replace(station, drill_id=None, variation_key="")
    return replace(station, variation_key=found.variation_key)


def keep_setups(ids: Sequence[Any], found: Taken) -> None:
    """Each station's set-up, by the stations' order; a part without any has none to keep."""
    documents = {each.key: each.document for each in found.stations}
    fitted = [each for part in found.parts for each in part.stations if each.key]
    for public_id, station in zip(ids, fitted, strict=True):
        document = documents[station.key]
        if document is None or station.setup is None or station.evening is None:
            continue
        Station.objects.filter(public_id=public_id).update(
            setup=setup_as_kept(station.setup, document, station.variation_key, station.evening),
            evening=evening_as_kept(station.setup, station.evening),
        )


def note_changes(
    session: TrainingSession, found: Taken, *, source: TrainingSession | None = None, title: str = ""
) -> TrainingSession:
    """Write down what became different, beside what was before: from `source`, or from the session template called `title`;
    without either the session itself, on other ground.
    """
    kept = reuse.again_as_kept(found, source=source, title=title)
    session.used_again = [*session.used_again, kept][-MOST_USED_AGAIN:]
    session.save(update_fields=["used_again"])
    fresh = queries.session_by_id(session.public_id)
    assert fresh is not None
    return fresh


@dataclass(frozen=True)
class WeekMade:
    """One week of a series: the session, or why there is none; and what it plays that the week before did not."""

    day: date
    session: TrainingSession | None
    problems: tuple[str, ...] = ()
    changes: tuple[PlanningReason, ...] = ()


@action
def plan_series(*, actor: Actor, source: TrainingSession, weeks: int) -> list[WeekMade]:
    """The same session over the next weeks, on the same evening and place, its game one rung up each week.

    Children need the same game for a few weeks; the rungs make it new. A week whose place or people are taken is left
    out and says why; the others stand.
    """
    if not 1 <= weeks <= MOST_WEEKS:
        raise Refused(
            [FieldProblem("weeks", _("From 1 to {most_weeks} weeks.").format(most_weeks=MOST_WEEKS))]
        )
    made: list[WeekMade] = []
    parts = _loose(parts_as_input(source), with_adults=True)
    for number in range(1, weeks + 1):
        higher, changes = _one_rung_up(actor, parts)
        made.append(_week(actor, source, source.day + number * WEEK, higher, changes))
        if made[-1].session is not None:  # a rung that nobody played is still to come
            parts = higher
    return made


def _loose(parts: Sequence[PartInput], *, with_adults: bool) -> list[PartInput]:
    """Parts that belong to no session yet."""
    return [
        replace(
            part,
            public_id=None,
            stations=tuple(
                replace(each, public_id=None, adult_id=each.adult_id if with_adults else None)
                for each in part.stations
            ),
        )
        for part in parts
    ]


def _week(
    actor: Actor, source: TrainingSession, day: date, parts: list[PartInput], changes: list[PlanningReason]
) -> WeekMade:
    place = ZonesAndStaff(
        tuple(each["pk"] for each in queries.zones_of(source)),
        tuple(each["pk"] for each in queries.staff_rows_of(source)),
    )
    try:
        with transaction.atomic():
            session = plan_session(
                age_group_id=source.age_group_id,
                squad_id=source.squad_id,
                when=DayAndTimes(day, source.starts, source.ends),
                place=place,
                slot=source.slot,
                title=source.title,
                theme_id=source.theme_id,
                players_expected=source.players_expected,
            )
            replace_parts(actor=actor, locked=session, parts=parts)
    except Refused as refused:
        return WeekMade(day, None, tuple(each.text for each in refused.problems), tuple(changes))
    return WeekMade(day, session, (), tuple(changes))


def _one_rung_up(actor: Actor, parts: list[PartInput]) -> tuple[list[PartInput], list[PlanningReason]]:
    """The games (without any, the last part) on their next rung."""
    games = [n for n, each in enumerate(parts) if each.kind is PartKind.GAME] or [len(parts) - 1]
    wanted = {each.drill_id for part in parts for each in part.stations if each.drill_id}
    revisions = drills.current_revisions(wanted, actor)
    documents = drills.documents(set(revisions.values()))
    known = {drill: documents[revision].document for drill, revision in revisions.items()}
    found, changes = list(parts), []
    for index in games:
        if not 0 <= index < len(parts):
            continue
        stations = []
        for each in parts[index].stations:
            document = known.get(each.drill_id) if each.drill_id else None
            up = one_up(document, each.variation_key) if document else None
            if document and up is None:
                changes.append(reason("carry_top_rung", title=document.title))
            elif document and up is not None:
                key, rung = ("", document.title) if isinstance(up, str) else (up.key, up.title)
                changes.append(reason("carry_rung_up", title=document.title, rung=rung))
                each = replace(each, variation_key=key)
            stations.append(each)
        found[index] = replace(parts[index], stations=tuple(stations))
    return found, changes
