"""The facts of one night's rotation, and how even its waiting can be at best."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from heapq import heapify, heappop, heappush

from sessions.planning.rotation.model import PlayerBout
from sessions.planning.rotation.seating import Seating


@dataclass(frozen=True, slots=True)
class Night:
    """Players, places and who is there when. Bouts are numbered from 1."""

    names: tuple[str, ...]
    slots: dict[str, int]
    bouts: int
    pinned: dict[str, str]
    only: dict[str, frozenset[str]]
    presence: dict[str, tuple[int, int]]
    played: tuple[PlayerBout, ...]
    seating: Seating | None = None

    @property
    def to_plan(self) -> range:
        """Numbers of the bouts that are still to be planned."""
        return range(len(self.played) + 1, self.bouts + 1)

    @property
    def free(self) -> tuple[str, ...]:
        """Players who take their turn of waiting."""
        return tuple(name for name in self.names if name not in self.pinned)

    def there(self, bout: int) -> tuple[str, ...]:
        """Who is there in a bout; a bout already played says so itself."""
        if bout <= len(self.played):
            done = self.played[bout - 1]
            known = {n for _, names in done.places for n in names}.union(done.waiting)
            return tuple(name for name in self.names if name in known)
        return tuple(n for n in self.names if self.presence[n][0] <= bout <= self.presence[n][1])

    def waiting_places(self, bout: int) -> int:
        """How many wait in a bout."""
        if bout <= len(self.played):
            return len(self.played[bout - 1].waiting)
        return len(self.there(bout)) - sum(self.slots.values())

    def may(self, name: str, role: str) -> bool:
        """Whether a player may take a role tonight."""
        if name in self.pinned:
            return self.pinned[name] == role
        return role in self.only.get(name, self.slots)


def due(night: Night) -> dict[str, Fraction]:
    """Waiting due to each free player, in bouts: in each bout the waiting places ÷ the free players there."""
    total = dict.fromkeys(night.free, Fraction(0))
    for bout in range(1, night.bouts + 1):
        sharing = [name for name in night.there(bout) if name in total]
        for name in sharing:
            total[name] += Fraction(night.waiting_places(bout), len(sharing))
    return total


def unevenness(night: Night, sets: Mapping[int, frozenset[str]]) -> Fraction:
    """The widest difference between what players wait beyond what is `due` to them, in bouts. `sets` is who waits, by bout."""
    over = [Fraction(sum(name in who for who in sets.values())) - owed for name, owed in due(night).items()]
    return max(over) - min(over) if over else Fraction(0)


def bound_and_targets(night: Night) -> tuple[Fraction, dict[str, int]]:
    """The least unevenness any plan can reach, and bouts of waiting for each player that reach it.

    A relaxation: only the totals and each player's own bouts are looked at, so a plan may not exist; where
    one does, it is proven. For each lowest level everybody is raised to it, then the lowest are raised on.
    """
    shares = due(night)
    if not shares:
        return Fraction(0), {}
    # Whole numbers of the smallest share: the same comparisons, a hundred times as fast as with fractions.
    whole = math.lcm(*(each.denominator for each in shares.values()))
    owed = {name: int(each * whole) for name, each in shares.items()}
    there = [frozenset(night.there(bout)) for bout in night.to_plan]
    done = {n: sum(n in bout.waiting for bout in night.played) for n in owed}
    most = {n: done[n] + sum(n in each for each in there) for n in owed}
    total = sum(night.waiting_places(bout) for bout in range(1, night.bouts + 1))
    levels = sorted({j * whole - owed[n] for n in owed for j in range(done[n], most[n] + 1)})
    best: tuple[int, dict[str, int]] | None = None
    for level in levels:
        waits = {n: max(done[n], -(-(level + owed[n]) // whole)) for n in owed}
        if any(waits[n] > most[n] for n in owed) or not _raise(waits, owed, most, total, whole):
            continue
        over = [waits[n] * whole - owed[n] for n in owed]
        if best is None or max(over) - min(over) < best[0]:
            best = (max(over) - min(over), waits)
    return (Fraction(best[0], whole), best[1]) if best else (Fraction(0), done)


def _raise(waits: dict[str, int], owed: dict[str, int], most: dict[str, int], total: int, whole: int) -> bool:
    """Raise the lowest until the waits add up; False if they cannot. `owed` is in shares, `whole` of them a bout."""
    short = total - sum(waits.values())
    lowest = [(waits[n] * whole - owed[n], place, n) for place, n in enumerate(waits) if waits[n] < most[n]]
    heapify(lowest)
    for _ in range(short):
        if not lowest:
            return False
        over, place, name = heappop(lowest)
        waits[name] += 1
        if waits[name] < most[name]:
            heappush(lowest, (over + whole, place, name))
    return short >= 0
