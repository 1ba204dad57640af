"""A session used again: what goes with it, the limits where it goes, and what would change."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.actor import Actor
from club.errors import Refused
from drills import queries as drills
from drills.game.evening import Evening, Piece, typed_ground
from drills.game.format import Format
from drills.queries import StationDrill, club_stock
from sessions.bridge import minutes_of
from sessions.choices import PartKind
from sessions.planning.catalogue import CATALOGUE
from sessions.planning.reasons import PlanningReason, kept_reason, reason_from
from sessions.planning.refit import PlayedStation, Refit, StationToReuse, Target, carry, one_harder
from sessions.queries.evening import ages_of, evening_of, pieces_in
from sessions.queries.guides import budget_of
from sessions.queries.nearest import nearest_instead
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.recorded.last_done import STEPPED
from sessions.queries.station import StationView
from sessions.validators import minutes_between, players_problems

# A usual sports hall, with walls (its size: common practice, no source).
HALL = Piece("", 40.0, 20.0, left="fence", right="fence", bottom="fence", top="fence")


@dataclass(frozen=True)
class Taken:
    """A session as it would be elsewhere: what went along, each part there, and everything that is different."""

    stations: tuple[StationToReuse, ...]
    parts: tuple[Refit, ...]
    changes: tuple[PlanningReason, ...]
    is_harder: bool = False  # one part is one step up, and the first of the changes says which

    @property
    def digest(self) -> str:
        """Equal for lists of changes that say the same."""
        return sha256("\n".join(each.text for each in self.changes).encode()).hexdigest()[:16]


def taken(session: Any, target: Target, *, actor: Actor, harder: bool = False) -> Taken:
    """Work out what using a session again brings; pages, API and the writing of it all read this, nothing is written.

    Another group plays the drills as the library has them now, its own evening those that are pinned. `harder`: with one
    part one step up where there is such a step and it runs there; the game first, then the last practice.
    """
    view = session_view(session, k=1.0, judged=False)
    now = _as_they_are_now(view, actor) if target.elsewhere else None
    stations = tuple(stations_to_reuse(view, now))
    step = one_harder(stations, _steps_first(view), target) if harder else None
    if step is not None:
        stations = step.stations
    parts = step.parts if step else carry(stations, target)
    changes = [step.said] if step else []
    changes += [
        each
        for part in parts
        for each in (*part.changes, *nearest_instead(part, stations, target, actor=actor))
    ]
    return Taken(stations, parts, tuple(changes), step is not None)


def _steps_first(view: SessionView) -> list[str]:
    """The stations that may be made harder, the one to begin with first."""
    parts = sorted(
        (each for each in view.parts if each.row.kind in STEPPED),
        key=lambda each: (STEPPED.index(PartKind(each.row.kind)), -each.row.position),
    )
    return [str(each.row.public_id) for part in parts for each in part.stations if each.drill]


def _as_they_are_now(view: SessionView, actor: Actor) -> dict[UUID, StationDrill]:
    """By drill, the revision that would be pinned for this person; what they may not use is left out."""
    wanted = {each.drill.drill_public_id for part in view.parts for each in part.stations if each.drill}
    revisions = drills.current_revisions(wanted, actor)
    found = drills.documents(revisions.values())
    return {drill: found[revision] for drill, revision in revisions.items()}


def stations_to_reuse(
    view: SessionView, now: Mapping[UUID, StationDrill] | None = None
) -> list[StationToReuse]:
    """Every station with its part's minutes and bouts; a part without any goes along as an empty one.

    `now` are the drills as the library has them; None: as they are pinned.
    """
    found = []
    for part in view.parts:
        stations: list[StationView | None] = list(part.stations) or [None]
        found += [_station_to_reuse(part, each, now) for each in stations]
    return found


def _station_to_reuse(
    part: PartView, station: StationView | None, now: Mapping[UUID, StationDrill] | None
) -> StationToReuse:
    bare = StationToReuse(
        key=str(station.row.public_id) if station else "",
        part=str(part.row.public_id),
        title=(station.title if station else "") or part.title,
        document=station.drill.document if station and station.drill else None,
        variation_key=station.row.variation_key if station else "",
        minutes=part.row.minutes,
        bouts=part.row.bouts,
        bout_s=part.row.bout_s,
        rest_s=part.row.rest_s,
        changeover_s=part.row.changeover_s,
        cr10=float(part.row.effort),
        part_title=part.title,
        cycle=_cycle(part),
        played=_played(station) if station else None,
        place=station.row.place if station else "",
        has_adult=station is not None and station.row.adult_id is not None,
    )
    if station is None or station.drill is None or now is None:
        return bare
    return _as_now(bare, station, now.get(station.drill.drill_public_id))


def _cycle(part: PartView) -> int:
    moving = sum(not each.row.stays for each in part.stations)
    return max(1, moving) if part.row.changes_round else 1


def _played(station: StationView) -> PlayedStation | None:
    """What was played there; of a drill without a set-up what its pinned revision has."""
    if station.setup is not None:
        return PlayedStation(station.setup.numbers, station.setup.grid_sizes)
    if station.document is None:
        return None
    grid = station.document.grids[0]
    return PlayedStation(str(Format.parse(station.document.format)), ((grid.length_m, grid.width_m),))


def _as_now(bare: StationToReuse, station: StationView, now: StationDrill | None) -> StationToReuse:
    """The same with the drill as the library has it now."""
    assert station.drill is not None
    if now is None:
        return replace(bare, gone=True)
    if now.revision_id == station.drill.revision_id:
        return bare
    known = {each.key for each in now.document.variations}
    lost = bare.variation_key not in {"", *known}
    return replace(
        bare,
        document=now.document,
        newer=True,
        variation_key="" if lost else bare.variation_key,
        lost_rung=station.variation_title if lost else "",
    )


def _target(group: Any, evening: Evening, *, minutes: float, day: date | None = None) -> Target:
    """The limits of an age group, for this evening of it; as they are in force on a day, today where none is said."""
    settings = club.club_settings()
    budget = budget_of(group, club.guidelines_for(group, day))
    rule = budget.header_rule
    return Target(
        evening,
        minutes=minutes,
        clear_minutes=settings.clear_minutes,
        load_au=budget.load_au,
        hardest_cr10=budget.hardest_cr10,
        headers=None if rule is None else 0 if rule.none else rule.per_session,
    )


def own_target(session: Any, *, players: int | None = None) -> Target:
    """The limits of a session itself, with other numbers. Raises Refused for more players than anything is fitted to."""
    _asked(players or session.players_expected)
    minutes = minutes_of(session)
    return _target(session.age_group, evening_of(session, players=players), minutes=minutes, day=session.day)


def group_target(
    age_group_id: int, *, minutes: int, players: int, adults: int, zones: Iterable[Any], source: Any
) -> Target:
    """The limits of another group where `source` is taken to, on the zones that are wanted there. Raises Refused."""
    _asked(players)
    group = next(each for each in club.age_groups() if each.pk == age_group_id)
    evening = Evening(
        players,
        adults=adults or None,
        ages=ages_of(group),
        pieces=pieces_in(zones),
        kit=club_stock(),
        chosen=True,
    )
    there = _target(group, evening, minutes=max(1, minutes))
    return replace(there, was=ages_of(source.age_group), elsewhere=True)


def slot_target(slot: Any, source: Any) -> Target:
    """The limits of a slot for the session that took place in it last: the same numbers, on the slot's own time and place."""
    return group_target(
        slot.age_group_id,
        minutes=minutes_between(slot.starts, slot.ends),
        players=source.players_expected,
        adults=len(slot.coach_rows),
        zones=slot.zone_rows,
        source=source,
    )


def _asked(players: int) -> None:
    if problems := players_problems(players):
        raise Refused(problems)


def other_ground(
    session: Any,
    space: str,
    *,
    players: int | None = None,
    length_m: float | None = None,
    width_m: float | None = None,
) -> Target:
    """Plan B: `half` of the largest piece of ground, cut across its longer side, a usual `hall`, or what is said in metres.

    Raises Refused where half of nothing is meant.
    """
    here = own_target(session, players=players)
    if length_m and width_m:
        ground = typed_ground(length_m, width_m)
    elif space == "hall":
        ground = (HALL,)
    elif not here.evening.pieces:
        raise Refused(_("Nothing is booked for this session: say how long and how wide."), "length")
    else:  # somebody else has the other half
        ground = (replace(here.evening.ground[0].cut(2)[0], key=""),)
    return replace(here, evening=here.evening.on(*ground), in_hall=space == "hall", keep_minutes=True)


@dataclass(frozen=True)
class UsedAgain:
    """One time that a session's parts were fitted anew. `title`, `day` and `age_group` are of the session that was copied;
    of a session template the title alone. Empty and None where it was fitted to other ground itself.
    """

    title: str
    day: date | None
    age_group: str
    changes: tuple[PlanningReason, ...]


def again_as_kept(found: Taken, *, source: Any = None, title: str = "") -> dict[str, Any]:
    """What became different as plain data; `title` is that of a session template."""
    return {
        "title": str(source) if source else title,
        "day": source.day.isoformat() if source else None,
        "age_group": source.age_group.label if source else "",
        "changes": [kept_reason(each) for each in found.changes],
    }


def used_again(session: Any) -> list[UsedAgain]:
    """What a session has kept of it, the last time first. No query."""
    return [
        UsedAgain(
            kept["title"],
            reading.day(kept["day"]),
            kept["age_group"],
            tuple(reason_from(each) for each in kept["changes"] if each["code"] in CATALOGUE),
        )
        for kept in reversed(session.used_again)
    ]
