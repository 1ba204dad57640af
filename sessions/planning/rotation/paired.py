"""Bibs of every bout where pairs are kept: whoever had less of a role takes it, then swaps while they make it more even."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from functools import partial
from itertools import combinations

from sessions.planning.rotation.evening import Night
from sessions.planning.rotation.seating import Seating, Way

Times = dict[str, Counter[str]]

MOST_PASSES = 6


def seat_all(night: Night, sets: Mapping[int, frozenset[str]]) -> dict[int, dict[str, Way]]:
    """Seats of each bout that is to be planned; `sets` are those who wait, chosen so that there is a way."""
    assert night.seating is not None
    times: Times = {name: Counter() for name in night.names}
    worn: dict[str, str] = {}
    for done in night.played:
        for role, names in done.places:
            for name in names:
                times[name][role] += 1
    found: dict[int, dict[str, Way]] = {}
    for bout in night.to_plan:
        playing = [name for name in night.there(bout) if name not in sets[bout]]
        # Whoever has had the least inside chooses first.
        playing.sort(key=lambda name: _over(night, times, name, "inside"))
        seats = night.seating.seats(playing, night.may, partial(_off, night, times, worn))
        assert seats is not None
        found[bout] = seats
        worn.update((name, bib) for name, (bib, _role) in seats.items())
        for name, (_bib, role) in seats.items():
            times[name][role] += 1
    for _ in range(MOST_PASSES):
        if not sum(_even_out(night, night.seating, times, seats) for seats in found.values()):
            break
    return found


def _over(night: Night, times: Times, name: str, role: str) -> int:
    """Bouts in a role beyond an even share, times the places so that it stays whole."""
    played = sum(times[name].values())
    return times[name][role] * sum(night.slots.values()) - played * night.slots.get(role, 0)


def _off(night: Night, times: Times, worn: Mapping[str, str], name: str, bib: str, role: str) -> float:
    """How far a place is from what would be even, then from the last bib."""
    return _over(night, times, name, role) + 0.5 * (worn.get(name, bib) != bib)


def _even_out(night: Night, seating: Seating, times: Times, seats: dict[str, Way]) -> bool:
    """Swap two players of a bout wherever roles are more even then and every pair is kept; whether any was."""
    swapped = False
    for a, b in combinations(seats, 2):
        (_, now), (_, then) = seats[a], seats[b]
        if now == then or not (night.may(a, then) and night.may(b, now)):
            continue
        before = _uneven(night, times, a) + _uneven(night, times, b)
        _swap(times, seats, a, b)
        if seating.suits(seats) and _uneven(night, times, a) + _uneven(night, times, b) < before:
            swapped = True
        else:
            _swap(times, seats, a, b)
    return swapped


def _uneven(night: Night, times: Times, name: str) -> int:
    return sum(_over(night, times, name, role) ** 2 for role in night.slots)


def _swap(times: Times, seats: dict[str, Way], a: str, b: str) -> None:
    for name, (_, now), (_, then) in ((a, seats[a], seats[b]), (b, seats[b], seats[a])):
        times[name][now] -= 1
        times[name][then] += 1
    seats[a], seats[b] = seats[b], seats[a]
