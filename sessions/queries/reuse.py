"""A session taken along: what goes with it, the limits where it goes, and what would change."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.errors import Refused
from drills.game.evening import Evening, Piece, typed_ground
from drills.queries import club_stock
from sessions.models import PartOrder
from sessions.planning.reasons import Reason
from sessions.planning.refit import Carried, Refit, Target
from sessions.queries.evening import ages_of, evening_of, pieces_in
from sessions.queries.guides import budget_of
from sessions.queries.plan import PartView, SessionView, StationView
from sessions.validators import minutes_between, players_problems

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


def _target(group: Any, evening: Evening, *, minutes: float) -> Target:
    """The limits of an age group, for this evening of it."""
    settings = club.club_settings()
    budget = budget_of(group, club.guidelines_for(group))
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
    minutes = minutes_between(session.starts, session.ends)
    return _target(session.age_group, evening_of(session, players=players), minutes=minutes)


def group_target(
    age_group_id: int, *, minutes: int, players: int, adults: int, zones: Iterable[Any]
) -> Target:
    """The limits of another group where a session is taken to, on the zones that are wanted there. Raises Refused."""
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
    return _target(group, evening, minutes=max(1, minutes))


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


def changes_of(found: Sequence[Refit]) -> list[Reason]:
    return [each for part in found for each in part.changes]
