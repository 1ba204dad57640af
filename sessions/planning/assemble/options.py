"""Every choice for a part: a drill, a way to run it, its minutes; what it costs, earns, and which limits it breaks."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from sessions.planning.assemble.library import Apart, Offer, Way
from sessions.planning.assemble.request import KIT, PIN, PartWish, Pin, Request
from sessions.planning.laying import SLACK_S, laying_s

# Scores are whole numbers, thousandths of a point: the solver counts exactly.
POINT = 1000
UNRATED = 0.5
SAME_RUNG_SHARE = 0.5
ALONE = 0  # cones that nothing else can use


class Option(NamedTuple):
    """One choice for one part. `load` and `effort` in tenths (AU, CR10); `in_play_all` is what it lacks to the session's
    floor, in thousandths of everybody's minutes (below 0 where it is above the floor); `again` is what of the score is earned
    by last week's drill, which counts in a few parts only; `cones` is a number, ALONE for none to share."""

    part: int
    offer: int
    way: int
    minutes: int
    score: int
    load: int
    effort: int
    headers: int
    set_up: int
    in_play_all: int
    again: int
    cones: int
    drill: int
    broken: frozenset[str]


# Which minutes to look at, of those that are possible.
Minutes = Callable[[Sequence[int]], Sequence[int]]


def all_of(minutes: Sequence[int]) -> Sequence[int]:
    """Every length that is possible."""
    return minutes


def fewest_of(minutes: Sequence[int]) -> Sequence[int]:
    """The shortest alone: every limit on sums is an upper one, so whatever fits at all fits with the fewest minutes."""
    return minutes[:1]


class Expansion:
    """The options of a request over a library, one list a part, each in the library's order."""

    def __init__(self, request: Request, library: Sequence[Offer]) -> None:
        self.request = request
        self.library = library
        self._cones: dict[str, int] = {"": ALONE}
        self._drills: dict[str, int] = {}
        for offer in library:
            self._drills.setdefault(offer.drill, len(self._drills))

    def parts(self, *, minutes: Minutes = all_of, broken_too: bool = False) -> list[list[Option]]:
        """For each part wanted, in order, its options; those that break a limit only where `broken_too`.

        `minutes` chooses which of the possible lengths of a part are looked at.
        """
        return [
            list(self._of_part(index, part, minutes, broken_too))
            for index, part in enumerate(self.request.wanted)
        ]

    def _of_part(self, index: int, part: PartWish, choose: Minutes, broken_too: bool) -> Iterator[Option]:
        pin = self.request.pin(part.key)
        for number, offer in enumerate(self.library):
            pinned = pin is not None and meets(pin, offer)
            if part.kind not in offer.kinds and not (pinned and pin and pin.drill is not None):
                continue
            by_offer = self._broken_by_offer(offer)
            if by_offer and not broken_too:
                continue
            ways = [
                (way, by_offer | self._broken_by_way(each))
                for way, each in enumerate(offer.ways)
                if (each.apart is not None) is part.keepers_apart
            ]
            if not broken_too:
                ways = [(way, broken) for way, broken in ways if not broken]
            if not ways:
                continue
            spells = []
            for spell, against in self._minutes(part, offer, pin if pinned else None, choose):
                hit = against or (pin is not None and not pinned)
                hits = frozenset(_held(self.request, PIN + part.key) if hit else ())
                if broken_too or not hits:
                    spells.append((spell, hits))
            yield from self._options(index, number, ways, spells)

    def _options(
        self,
        index: int,
        number: int,
        ways: Sequence[tuple[int, frozenset[str]]],
        spells: Sequence[tuple[int, frozenset[str]]],
    ) -> Iterator[Option]:
        """An offer in each of its ways for each of these minutes."""
        offer = self.library[number]
        again = round(POINT * self._again(offer))
        drill, effort = self._drills[offer.drill], offer.effort_tenths
        floor = self.request.in_play_all if self.request.holds("in_play_all") else None

        def lacks(way: int, spell: int) -> int:
            share = offer.ways[way].playing_share
            return 0 if floor is None else round(POINT * spell * (floor - share))

        worth = [
            (way, *self._worth(offer, offer.ways[way]), self._costs(index, offer, offer.ways[way]), broken)
            for way, broken in ways
        ]
        for spell, hits in spells:
            for way, a_minute, once, cones, (headers, set_up), broken in worth:
                score, limits = round(POINT * (a_minute * spell + once)), broken | hits if hits else broken
                costs = spell, score, effort * spell, effort, headers, set_up, lacks(way, spell)
                yield Option(index, number, way, *costs, again, cones, drill, limits)

    def _minutes(
        self, part: PartWish, offer: Offer, pin: Pin | None, choose: Minutes
    ) -> Iterator[tuple[int, bool]]:
        """Minutes, and whether they go against the pin's."""
        pinned = pin.minutes if pin else None
        if pinned is not None:
            yield pinned, False
        least = max(offer.least_minutes, part.least_minutes)
        least += -(least - offer.least_minutes) % offer.step_minutes
        most = min(offer.most_minutes, part.most_minutes)
        for spell in choose(range(least, most + 1, offer.step_minutes)):
            if spell != pinned:
                yield spell, pinned is not None

    def _broken_by_offer(self, offer: Offer) -> frozenset[str]:
        request = self.request
        names = set()
        if request.hardest_cr10 is not None and offer.effort_cr10 > request.hardest_cr10 + 1e-9:
            names.add("hardest")
        if offer.drill in request.banned:
            names.add("banned")
        return frozenset(names & _held(request, *names))

    def _broken_by_way(self, way: Way) -> frozenset[str]:
        request = self.request
        stock = request.kit or {}
        names = {KIT + kind for kind, count in way.kit.items() if count > stock.get(kind, count)}
        if way.players != request.players:
            names.add("turn_out")
        if not fits(way, request.length_m, request.width_m):
            names.add("space")
        if request.adults is not None and way.adults > request.adults:
            names.add("adults")
        if not way.keeps(request.in_play):
            names.add("in_play")
        if way.apart is not None:
            names |= self._broken_by_keepers(way.apart)
        return frozenset(names & _held(request, *names))

    def _broken_by_keepers(self, station: Apart) -> set[str]:
        hardest = self.request.hardest_cr10
        too_hard = hardest is not None and station.effort_cr10 > hardest + 1e-9
        banned = station.drill in self.request.banned
        return {name for name, broken in (("hardest", too_hard), ("banned", banned)) if broken}

    def _worth(self, offer: Offer, way: Way) -> tuple[float, float, int]:
        """Points a minute, points once, and the number of the cones, for this choice alone; moves and curve come on top."""
        weights, stations = self.request.weights, way.apart
        liked = self._liked(offer)
        if stations is not None:
            liked = stations.between(self._liked(stations), liked)
        a_minute = liked + weights.playing * way.playing_share + weights.minutes
        once = self._again(offer) - weights.fit * way.distance
        return a_minute, once, self._cones.setdefault(way.cones, len(self._cones))

    def _costs(self, index: int, offer: Offer, way: Way) -> tuple[int, int]:
        """Headers, and minutes of setting up before the start."""
        return _headers(offer, way), set_up_before(self.request, offer, way, first=index == 0)

    def _again(self, offer: Offer) -> float:
        """Points for a drill of last week."""
        shares = {"": 0.0, "same rung": SAME_RUNG_SHARE, "one rung up": 1.0}
        return self.request.weights.last_week * shares[offer.last_week]

    def _liked(self, drill: Offer | Apart) -> float:
        """Points a minute for what a drill is about and how it is rated."""
        weights, rating = self.request.weights, UNRATED if drill.rating is None else drill.rating
        return weights.theme * theme_share(self.request, drill) + weights.rating * rating


def set_up_before(request: Request, offer: Offer, way: Way, *, first: bool) -> int:
    """Minutes before the start that a part asks for: all of the first; of a later one what its changeover can't hold.

    As `laying` has it, with all adults at it (one where nobody said), for a part whose cones do not stand already.
    """
    stations = [(offer.set_up_minutes, way)]
    if way.apart is not None:
        apart = way.apart
        stations = [(offer.set_up_minutes, apart.others), (apart.set_up_minutes, apart.keepers)]
    crew = max(1, request.adults or 1)
    if first:
        return math.ceil(sum(minutes * each.grids for minutes, each in stations) / crew)
    laid_s = sum(laying_s(each.kit, minutes * each.grids) for minutes, each in stations)
    over_s = laid_s - crew * (60 * request.changeover_minutes + SLACK_S)
    return math.ceil(max(0, over_s) / (60 * crew))


def _headers(offer: Offer, way: Way) -> int:
    """Headers of any one player: of two stations the more."""
    apart = way.apart.headers_per_player if way.apart else 0
    return max(offer.headers_per_player, apart)


def theme_share(request: Request, offer: Offer | Apart) -> float:
    """How much of a drill is on what tonight is for: weighted over the themes asked for, at most 1."""
    return min(1.0, sum(weight * offer.themes.get(theme, 0.0) for theme, weight in request.themes.items()))


def meets(pin: Pin, offer: Offer) -> bool:
    """Whether an offer is what the pin names."""
    return pin.drill in (None, offer.drill) and pin.variation in (None, offer.variation)


def fits(way: Way, length_m: float, width_m: float) -> bool:
    """Whether the room that a way takes lies inside the free space, turned where it must be; metres."""
    long, short = max(way.length_m, way.width_m), min(way.length_m, way.width_m)
    return long <= max(length_m, width_m) + 1e-9 and short <= min(length_m, width_m) + 1e-9


def _held(request: Request, *names: str) -> set[str]:
    return {name for name in names if request.holds(name)}
