"""The smallest set of wishes that clash: a core by assumptions, shrunk, then a smaller one looked for from the other side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

MOST_TRIES = 80  # sets that are tried before a smaller clash is no longer looked for

# Asked of wishes (by number) whether they can hold together. Answers True and wishes that do, the asked ones among them, or
# False and some of the asked ones that cannot. Raises TimeoutError where it cannot tell in time.
Look = Callable[[Sequence[int]], tuple[bool, Sequence[int]]]


def smallest_clash(count: int, look: Look, known: Sequence[int] = ()) -> tuple[tuple[int, ...], bool]:
    """The numbers (from 0, below `count`) of wishes that clash, the fewest; empty without a clash.

    `known` is a clash that is known already. The second answer says whether no smaller set clashes. Where it does not, the
    tries or the time were over: the least that was known to clash when `look` raised TimeoutError is answered, and some of
    it may be needless. Raises TimeoutError where nothing was known to clash yet.

    A set that meets every way out known so far is tried: what it leaves out when it can hold together is one more way out,
    what clashes in it is the answer. That is the duality of smallest conflicts and smallest corrections (Reiter, A theory
    of diagnosis from first principles, 1987; from memory).
    """
    every = tuple(range(count))
    hold, first = (False, known) if known else look(every)
    if hold:
        return (), True
    best = tuple(first)
    try:
        for fewer in _shrinking(best, look):
            best = fewer
        return (best, True) if len(best) <= 1 else _smaller(best, every, look)
    except TimeoutError:
        return best, False


def _smaller(best: tuple[int, ...], every: tuple[int, ...], look: Look) -> tuple[tuple[int, ...], bool]:
    """The smallest clash, or the one that is known where no smaller one was found; and whether no smaller set clashes."""
    ways_out = [frozenset(every) - _grown((), every, look)]
    for _ in range(MOST_TRIES):
        tried = _meeting_all(ways_out, every, len(best) - 1)
        if tried is None:
            return best, True
        hold, those = look(tried)
        if not hold:
            return tuple(those), True  # no clash is smaller than the smallest set that meets all ways out
        ways_out.append(frozenset(every) - _grown(those, every, look))
    return best, False


def _shrinking(clash: tuple[int, ...], look: Look) -> Iterator[tuple[int, ...]]:
    """Smaller and smaller clashes within one: what is not needed for it is left out, one wish after the other."""
    for each in clash:
        if each in clash:
            hold, fewer = look([other for other in clash if other != each])
            if not hold:
                clash = tuple(fewer)
                yield clash


def _grown(held: Sequence[int], every: Sequence[int], look: Look) -> frozenset[int]:
    """As many more wishes as can hold together with these: no other can be added."""
    held = list(held)
    for each in every:
        if each not in held:
            hold, those = look([*held, each])
            held = list(those) if hold else held
    return frozenset(held)


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
