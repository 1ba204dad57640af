"""The smallest set of wishes that clash: a core by assumptions, shrunk, then a smaller one looked for from the other side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

MOST_TRIES = 80  # sets that are tried before a smaller clash is no longer looked for

# Answers a subset of the asked wishes (by number) that cannot hold together; None when all of them can.
Core = Callable[[Sequence[int]], Sequence[int] | None]


def smallest_clash(count: int, core_of: Core, known: Sequence[int] = ()) -> tuple[tuple[int, ...], bool]:
    """The numbers (from 0, below `count`) of wishes of which no one can be left out of the clash; empty without a clash.

    `known` is a clash that is known already. The second answer says whether no smaller set clashes. A set that meets every way out known so far is tried:
    what it leaves out when it can hold together is one more way out, what clashes in it is the answer. That is the duality
    of smallest conflicts and smallest corrections (Reiter, A theory of diagnosis from first principles, 1987; from memory).
    """
    every = tuple(range(count))
    first = known or core_of(every)
    if first is None:
        return (), True
    best = _shrunk(tuple(first), core_of)
    if len(best) <= 1:
        return best, True
    ways_out = [frozenset(every) - set(_grown((), every, core_of))]
    for _ in range(MOST_TRIES):
        tried = _meeting_all(ways_out, every, len(best) - 1)
        if tried is None:
            return best, True
        found = core_of(tried)
        if found is not None:
            return _shrunk(tuple(found), core_of), True
        ways_out.append(frozenset(every) - set(_grown(tried, every, core_of)))
    return best, False


def _shrunk(core: tuple[int, ...], core_of: Core) -> tuple[int, ...]:
    """Leave out one after the other what is not needed for the clash."""
    for each in core:
        rest = tuple(other for other in core if other != each)
        if each in core and (found := core_of(rest)) is not None:
            core = tuple(found)
    return core


def _grown(held: tuple[int, ...], every: Sequence[int], core_of: Core) -> tuple[int, ...]:
    """As many more wishes as can hold together with these, taken in their order."""
    for each in every:
        if each not in held and core_of((*held, each)) is None:
            held = (*held, each)
    return held


def _meeting_all(
    ways_out: Sequence[frozenset[int]], every: Sequence[int], most: int
) -> tuple[int, ...] | None:
    """The smallest set of at most so many wishes with one at least from every way out."""
    of_some = [each for each in every if any(each in way for way in ways_out)]
    for size in range(1, most + 1):
        for tried in combinations(of_some, size):
            if all(not way.isdisjoint(tried) for way in ways_out):
                return tried
    return None
