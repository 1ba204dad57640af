"""Which role each playing player takes: even over the night, then few changes of bib, then new team-mates."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import combinations, pairwise

from sessions.planning.rotation.evening import Night
from sessions.planning.rotation.waiting import match

Roles = dict[int, dict[str, str]]

MOST_PASSES = 6


def assign_roles(night: Night, waiting: Mapping[int, frozenset[str]]) -> Roles:
    """Roles for every bout still to come: a first filling bout by bout, then swaps while they help."""
    roles: Roles = {b.number: {n: r for r, names in b.places for n in names} for b in night.played}
    table = _Table(night, roles)
    for bout in night.to_plan:
        playing = [name for name in night.there(bout) if name not in waiting[bout]]
        table.add(bout, _first_filling(night, playing, roles))
        _swap(table, bout)
    for _ in range(MOST_PASSES):
        if not sum(_swap(table, bout) for bout in night.to_plan):
            break
    return roles


def _first_filling(night: Night, playing: list[str], roles: Roles) -> dict[str, str]:
    """Keep last bout's roles where there is room; the others by a matching that minds who may do what."""
    if night.only or night.pinned:
        return {name: place[0] for name, place in match(night, playing).items()}
    room, found = dict(night.slots), {}
    for name in sorted(playing, key=lambda n: (len(_past(roles, n)), n)):
        role = max(room, key=lambda r: (room[r] > 0, -_past(roles, name).count(r), room[r]))
        found[name], room[role] = role, room[role] - 1
    return found


def _past(roles: Roles, name: str) -> list[str]:
    return [of[name] for bout, of in sorted(roles.items()) if name in of]


class _Table:
    """Roles by bout, with what swaps are judged by kept at hand: 30 players × 12 bouts try 20,000 of them."""

    def __init__(self, night: Night, roles: Roles) -> None:
        self.night, self.roles = night, roles
        self.places = sum(night.slots.values())
        self.times: dict[str, Counter[str]] = {name: Counter() for name in night.names}
        self.met: Counter[tuple[str, str]] = Counter()
        for of in roles.values():
            self._count(of)

    def add(self, bout: int, of: dict[str, str]) -> None:
        self.roles[bout] = of
        self._count(of)

    def _count(self, of: Mapping[str, str]) -> None:
        for name, role in of.items():
            self.times[name][role] += 1
        for a, b in combinations(of, 2):
            if of[a] == of[b]:
                self.met[_pair(a, b)] += 1

    def is_better(self, bout: int, a: str, b: str) -> bool:
        """Whether swapping two players is more even over roles; if alike, has fewer changes; if alike, newer mates."""
        apart = self._uneven_apart(bout, a, b)
        if apart:
            return apart < 0
        apart = self._changes_apart(bout, a, b)
        if apart:
            return apart < 0
        return self._mates_apart(bout, a, b) < 0

    def _uneven_apart(self, bout: int, a: str, b: str) -> int:
        """How the squared distance from an even share changes, in (1 ÷ places)² so that it stays whole."""
        of, total = self.roles[bout], 0
        for name, now, then in ((a, of[a], of[b]), (b, of[b], of[a])):
            played = sum(self.times[name].values())
            for role, by in ((now, -1), (then, 1)):
                off = self.times[name][role] * self.places - played * self.night.slots.get(role, 0)
                total += (off + by * self.places) ** 2 - off**2
        return total

    def _changes_apart(self, bout: int, a: str, b: str) -> int:
        of = self.roles[bout]
        before = self._changes(a) + self._changes(b)
        of[a], of[b] = of[b], of[a]
        after = self._changes(a) + self._changes(b)
        of[a], of[b] = of[b], of[a]
        return after - before

    def _changes(self, name: str) -> int:
        return sum(x != y for x, y in pairwise(_past(self.roles, name)))

    def _mates_apart(self, bout: int, a: str, b: str) -> int:
        """How the squared times together with those who play in this bout change."""
        of, total = self.roles[bout], 0
        for name, now, then in ((a, of[a], of[b]), (b, of[b], of[a])):
            for other, role in of.items():
                if other not in (a, b) and role in (now, then):
                    met = self.met[_pair(name, other)]
                    total += 1 - 2 * met if role == now else 1 + 2 * met
        return total

    def swap(self, bout: int, a: str, b: str) -> None:
        of = self.roles[bout]
        for name, now, then in ((a, of[a], of[b]), (b, of[b], of[a])):
            self.times[name][now] -= 1
            self.times[name][then] += 1
            for other, role in of.items():
                if other not in (a, b) and role in (now, then):
                    self.met[_pair(name, other)] += 1 if role == then else -1
        of[a], of[b] = of[b], of[a]


def _swap(table: _Table, bout: int) -> bool:
    """Swap the roles of two players in one bout wherever that is better; whether anything was swapped."""
    of, night, swapped = table.roles[bout], table.night, False
    for a, b in combinations(of, 2):
        if of[a] == of[b] or not (night.may(a, of[b]) and night.may(b, of[a])):
            continue
        if table.is_better(bout, a, b):
            table.swap(bout, a, b)
            swapped = True
    return swapped


def _pair(a: str, b: str) -> tuple[str, str]:
    return (a, b) if a < b else (b, a)
