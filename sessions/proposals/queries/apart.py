"""Keepers at a station of their own: a strip of the ground and a drill for them, and the rest for the others."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

import msgspec

from club.actor import Actor
from drills import queries as drills
from drills.game.evening import Evening, Piece, Stands
from drills.game.fit import SetUp
from drills.game.fits import fits_design
from drills.queries import DrillSearch, OfferedRung
from sessions.planning.assemble import Apart, Way, apart
from sessions.planning.assemble.apart import BETWEEN_M
from sessions.planning.assemble.library import rating_of
from sessions.proposals.queries.ways import way_of
from sessions.proposals.wish import Wish

MOST_DRILLS = 4  # for keepers: each is tried beside every drill for the others
SHORTEST_M = 5.0  # of ground for the others


@dataclass(frozen=True)
class KeepersStation:
    """A drill for tonight's keepers on a strip across the longer side of what is free; `rest` is the others' evening."""

    rung: OfferedRung
    way: Way
    ground_m: tuple[float, float]
    rest: Wish

    def beside(self, others: Way, themes: Mapping[str, float], heard: tuple[int, int] | None) -> Way:
        """Both as one way, with the themes of the keepers' drill and what coaches noted of it."""
        rung = self.rung
        stations = Apart(
            drill=str(rung.drill_id),
            variation=rung.key,
            title=rung.drill_title if not rung.key else f"{rung.drill_title}: {rung.title}",
            keepers=self.way,
            others=others,
            effort_cr10=rung.effort,
            set_up_minutes=rung.set_up_minutes,
            headers_per_player=rung.headers,
            themes=themes,
            rating=rating_of(*heard) if heard else None,
            keepers_ground_m=self.ground_m,
            others_ground_m=self.rest.ground_m,
        )
        length_m, width_m = self.rest.ground_m
        return apart(stations, length_m=length_m + BETWEEN_M + self.ground_m[0], width_m=width_m)


def stations_for(
    actor: Actor, wish: Wish, *, ages: tuple[int, int | None], but: frozenset[str]
) -> list[KeepersStation]:
    """Up to four drills for keepers that tonight's keepers can do with one adult, on theme first. One query.

    `but` are drills that a part keeps already. A drill is played as written where that works, else on its first rung that
    does.
    """
    found: dict[str, KeepersStation] = {}
    rungs = drills.offered_rungs(actor, ages=ages, keepers=True)
    rungs.sort(key=lambda rung: not set(rung.theme_keys) & set(wish.themes))
    for rung in rungs:
        drill = str(rung.drill_id)
        if len(found) == MOST_DRILLS:
            break
        if drill in found or drill in but or drill in wish.banned:
            continue
        if station := _station(rung, wish):
            found[drill] = station
    return list(found.values())


def rungs_beside(
    actor: Actor, stations: list[KeepersStation], *, ages: tuple[int, int | None]
) -> list[OfferedRung]:
    """Rungs that the others can play beside the smallest of the keepers' stations. One query; none without a station."""
    if not stations:
        return []
    rest = max((each.rest for each in stations), key=lambda wish: wish.ground_m)
    return drills.offered_rungs(actor, ages=ages, tonight=DrillSearch.on(rest.evening))


def _station(rung: OfferedRung, wish: Wish) -> KeepersStation | None:
    short, long = sorted(wish.ground_m)
    whole = _fitted(rung, wish, long, short)
    if whole is None:
        return None
    sides = {side + strip for side in (whole.length_m, whole.width_m) for strip in (0, 2 * whole.strip_m)}
    for strip_m in sorted(map(math.ceil, sides)):
        if strip_m + BETWEEN_M + SHORTEST_M > long:
            return None
        if found := _fitted(rung, wish, strip_m, short):
            way = way_of(rung.design, found, keepers_evening(wish, strip_m, short))
            return KeepersStation(
                rung, way, (float(strip_m), short), _rest(wish, way, long - strip_m - BETWEEN_M, short)
            )
    return None


def keepers_evening(wish: Wish, length_m: float, width_m: float) -> Evening:
    """The evening of the keepers at their own station, with an adult of theirs."""
    return wish.evening.for_station(wish.keepers or 1).on(_strip(wish, length_m, width_m, "left"))


def _fitted(rung: OfferedRung, wish: Wish, length: float, width: float) -> SetUp | None:
    """The nearest set-up in which somebody keeps goal and nobody stands and waits.

    Among keepers anyone may be asked to keep goal, and anyone to serve: none of them is named to Fit.
    """
    found = fits_design(rung.design, keepers_evening(wish, length, width))
    return next((each for each in found if each.keepers and not each.waiting), None)


def _rest(wish: Wish, keepers: Way, length: float, width: float) -> Wish:
    """The evening of the others: without the keepers, their adult, their kit and their strip."""
    kit = wish.kit
    if kit is not None:
        kit = {kind: max(0, count - keepers.kit.get(kind, 0)) for kind, count in kit.items()}
    return _without(wish, keepers.players, length, width, kit)


def _without(wish: Wish, keepers: int, length: float, width: float, kit: dict[str, int] | None) -> Wish:
    return msgspec.structs.replace(
        wish,
        players=wish.players - keepers,
        keepers=0,
        adults=None if wish.adults is None else wish.adults - 1,
        length=length,
        width=width,
        piece=_strip(wish, length, width, "right"),
        kit=kit,
    )


def _strip(wish: Wish, length_m: float, width_m: float, cut: Literal["left", "right"]) -> Piece:
    """So much of tonight's ground along its longer side, from the end that is not cut; the gap lies beyond the cut."""
    piece = wish.evening.ground[0]
    if piece.width_m > piece.length_m:
        piece = replace(piece, left=piece.bottom, right=piece.top, bottom=piece.left, top=piece.right)
    left: Stands = "open" if cut == "left" else piece.left
    right: Stands = "open" if cut == "right" else piece.right
    return replace(piece, length_m=length_m, width_m=width_m, left=left, right=right, goals=())


def stations_of(part: Mapping[str, Any], wish: Wish) -> Iterator[tuple[Mapping[str, Any], Evening]]:
    """Each station of a proposed part, as it was kept, with the evening that it was fitted to."""
    keepers = part.get("keepers")
    if not keepers:
        yield part, wish.evening
        return
    long, short = keepers["others_ground_m"]
    yield part, _without(wish, keepers["players"], long, short, wish.kit).evening
    yield keepers, keepers_evening(wish, *keepers["ground_m"])
