"""Bibs for everybody who plays in one bout, where some are to be kept together and others apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain, combinations

from sessions.planning.rotation.tonight import INSIDE, KEEPER, OUTSIDE, Pair, TeamPlaces

MOST_NODES = 20_000
Way = tuple[str, str]  # bib, role
May = Callable[[str, str], bool]
Wish = Callable[[str, str, str], float]


class GaveUp(Exception):
    """The search was cut short: nothing is known."""


@dataclass(frozen=True, slots=True)
class Seating:
    """The bibs with their places, and the pairs. Goals are no bib: nobody in goal is with or against anybody."""

    teams: tuple[TeamPlaces, ...]
    keepers: int = 0
    together: tuple[Pair, ...] = ()
    apart: tuple[Pair, ...] = ()

    @property
    def room(self) -> dict[Way, int]:
        """Places by (bib, role)."""
        found = Counter({(KEEPER, KEEPER): self.keepers} if self.keepers else {})
        for each in self.teams:
            found[each.bib, each.place] += each.places
        return dict(found)

    def suits(self, way_of: Mapping[str, Way]) -> bool:
        """Whether the bibs of one bout keep every pair whose two players both play in it."""
        return all(
            (way_of[a][0] == way_of[b][0] != KEEPER) == wanted
            for pairs, wanted in ((self.together, True), (self.apart, False))
            for a, b in pairs
            if a in way_of and b in way_of
        )

    def seats(self, playing: Sequence[str], may: May, wish: Wish | None = None) -> dict[str, Way] | None:
        """A bib and role for each player, every place filled and every pair kept; None where there is no way to.

        `may(player, role)` says what is allowed tonight; `wish(player, bib, role)` is lower for what is rather wanted: it
        decides the order in which bibs are tried, nothing else. Raises GaveUp after too many tries.
        """
        search = _Search(self, playing, may, wish or _no_wish)
        return search.way_of if search.found() and search.others() else None

    def has_room(self, playing: Sequence[str], may: May) -> bool:
        """Whether `seats` finds any; raises GaveUp after too many tries."""
        return _Search(self, playing, may, _no_wish).found()

    def without(self, pair: Pair, *, together: bool) -> Seating:
        """The same with one pair let go that was to be together, or apart."""
        if together:
            return replace(self, together=_less(self.together, pair))
        return replace(self, apart=_less(self.apart, pair))


def _less(pairs: Sequence[Pair], pair: Pair) -> tuple[Pair, ...]:
    at = pairs.index(pair)
    return (*pairs[:at], *pairs[at + 1 :])


def smallest_clash(seating: Seating, feasible: Callable[[Seating], bool]) -> Seating | None:
    """A seating with the pairs that can't all be kept, of which any one can be let go to keep the others.

    None if it isn't the pairs. `feasible` says whether there is a way with the pairs of a seating; with those of this
    one there is none.
    """
    if not feasible(replace(seating, together=(), apart=())):
        return None
    wishes = [(pair, True) for pair in seating.together] + [(pair, False) for pair in seating.apart]
    for pair, together in wishes:
        less = seating.without(pair, together=together)
        if not feasible(less):
            seating = less
    return seating


def _no_wish(name: str, bib: str, role: str) -> float:
    return 0.0


@dataclass(slots=True)
class _Search:
    """Depth first over the players of pairs; the others only have to find room, which is counted."""

    seating: Seating
    playing: Sequence[str]
    may: May
    wish: Wish
    nodes: int = 0
    way_of: dict[str, Way] = field(default_factory=dict)
    room: dict[Way, int] = field(default_factory=dict)

    def found(self) -> bool:
        """Find bibs for the players of pairs so that everybody else has room."""
        self.room = self.seating.room
        if sum(self.room.values()) != len(self.playing):
            return False
        return self._has_room() and self._next(self._joined(), 0)

    def _joined(self) -> list[str]:
        """Players in the order of their pairs, so that the second of a pair is tried right after the first."""
        pairs = (*self.seating.together, *self.seating.apart)
        order = dict.fromkeys(chain.from_iterable(pairs))
        return [name for name in order if name in self.playing]

    def _next(self, bound: list[str], at: int) -> bool:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            raise GaveUp
        if at == len(bound):
            return True
        name = bound[at]
        ways = [way for way, left in self.room.items() if left and self.may(name, way[1])]
        for way in sorted(ways, key=lambda way: self.wish(name, *way)):
            self._put(name, way, 1)
            if self.seating.suits(self.way_of) and self._has_room() and self._next(bound, at + 1):
                return True
            self._put(name, way, -1)
        return False

    def _put(self, name: str, way: Way, sign: int) -> None:
        self.room[way] -= sign
        if sign > 0:
            self.way_of[name] = way
        else:
            del self.way_of[name]

    def _has_room(self) -> bool:
        """Hall's condition over the roles for everybody who has no bib yet, pairs left aside."""
        rest = [name for name in self.playing if name not in self.way_of]
        roles = [role for role in (INSIDE, OUTSIDE, KEEPER) if any(way[1] == role for way in self.room)]
        left = {role: sum(room for way, room in self.room.items() if way[1] == role) for role in roles}
        allowed = [frozenset(role for role in roles if self.may(name, role)) for name in rest]
        subsets = chain.from_iterable(combinations(roles, size) for size in range(len(roles) + 1))
        return all(
            sum(each.issubset(subset) for each in allowed) <= sum(left[role] for role in subset)
            for subset in subsets
        )

    def others(self) -> bool:
        """Bibs for everybody else, whoever may least first, then by wish; there is room, it only has to be kept."""
        rest = [name for name in self.playing if name not in self.way_of]
        rest.sort(key=lambda name: sum(self.may(name, role) for role in (INSIDE, OUTSIDE, KEEPER)))
        for name in rest:
            ways = [way for way, left in self.room.items() if left and self.may(name, way[1])]
            for way in sorted(ways, key=lambda way: self.wish(name, *way)):
                self._put(name, way, 1)
                if self._has_room():
                    break
                self._put(name, way, -1)
            else:
                return False
        return True
