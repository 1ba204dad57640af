"""A session taken along: what goes with it, the limits where it goes, and what would change."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from club import queries as club
from club import reading
from club.errors import Refused
from drills.game.evening import Piece
from sessions.models import PartOrder
from sessions.planning.reasons import Reason
from sessions.planning.refit import Carried, Refit, Target
from sessions.queries.guides import budget_of
from sessions.queries.plan import PartView, SessionView, StationView
from sessions.queries.rows import staff_rows_of, zones_of
from sessions.queries.spaces import spaces_of
from sessions.validators import minutes_between, players_problems

NO_GROUND = Piece("", 60.0, 40.0)  # where nothing is booked yet
# A usual sports hall, with walls (its size: common practice, no source).
HALL = Piece("", 40.0, 20.0, left="fence", right="fence", bottom="fence", top="fence")


def part_orders() -> list[PartOrder]:
    """The orders of parts that the club keeps, by name."""
    return list(PartOrder.objects.all())


def part_order(public_id: UUID | str) -> PartOrder | None:
    return PartOrder.objects.filter(public_id=reading.outer_id(public_id)).first()


def carried_of(view: SessionView) -> list[Carried]:
    """Every station with its part's minutes and bouts; a part without any goes along as an empty one."""
    found = []
    for part in view.parts:
        stations: list[StationView | None] = list(part.stations) or [None]
        found += [_carried(part, each) for each in stations]
    return found


def _carried(part: PartView, station: StationView | None) -> Carried:
    return Carried(
        key=str(station.row.public_id) if station else "",
        part=str(part.row.public_id),
        title=station.title if station else part.title,
        document=station.drill.document if station and station.drill else None,
        variation_key=station.row.variation_key if station else "",
        minutes=part.row.minutes,
        bouts=part.row.bouts,
        bout_s=part.row.bout_s,
        rest_s=part.row.rest_s,
        changeover_s=part.row.changeover_s,
        cr10=float(part.row.effort),
    )


def target_for(group: Any, *, minutes: float, players: int, adults: int, grounds: Sequence[Piece]) -> Target:
    """The limits of an age group and of what is booked there: the pieces of ground, the largest first; the club's kit.

    Raises Refused for more players than anything is fitted to.
    """
    if problems := players_problems(players):
        raise Refused(problems)
    settings = club.club_settings()
    budget = budget_of(group, club.guidelines_for(group))
    rule = budget.header_rule
    first, *others = sorted(grounds, key=lambda each: -each.area_m2) or [NO_GROUND]
    stock = club.kit_stock()
    return Target(
        players=players,
        piece=first,
        beside=tuple(others),
        minutes=minutes,
        clear_minutes=settings.clear_minutes,
        adults=max(1, adults),
        kit=stock if any(stock.values()) else None,
        load_au=budget.load_au,
        hardest_cr10=budget.hardest_cr10,
        headers=None if rule is None else 0 if rule.none else rule.per_session,
        ages=group.ages.unders,
    )


def grounds_of(zones: Iterable[Any]) -> list[Piece]:
    """Zones, rows or plain ones, as pieces of ground: those that lie side by side together."""
    return [each.piece for each in spaces_of(zones)]


def own_target(session: Any, *, players: int | None = None) -> Target:
    """The limits of a session itself, with other numbers."""
    return target_for(
        session.age_group,
        minutes=minutes_between(session.starts, session.ends),
        players=players or session.players_expected,
        adults=len(staff_rows_of(session)),
        grounds=grounds_of(zones_of(session)),
    )


def group_target(
    age_group_id: int, *, minutes: int, players: int, adults: int, zones: Iterable[Any]
) -> Target:
    """The limits of another group where a session is taken to, on the zones that are wanted there."""
    group = next(each for each in club.age_groups() if each.pk == age_group_id)
    return target_for(
        group, minutes=max(1, minutes), players=players, adults=adults, grounds=grounds_of(zones)
    )


def other_ground(
    session: Any,
    space: str,
    *,
    players: int | None = None,
    length_m: float | None = None,
    width_m: float | None = None,
) -> Target:
    """Plan B: `half` of the largest piece of ground, cut across its longer side, a usual `hall`, or what is said in metres."""
    here = own_target(session, players=players)
    piece = HALL if space == "hall" else replace(here.piece.cut(2)[0], key="")
    if length_m and width_m:
        piece = Piece("", length_m, width_m)  # metres alone mean open edges
    return replace(
        here,
        piece=piece,
        beside=(),
        in_hall=space == "hall",
        keep_minutes=True,
    )


def changes_of(found: Sequence[Refit]) -> list[Reason]:
    return [each for part in found for each in part.changes]
