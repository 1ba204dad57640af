"""Which teams are inside in which bout, so that every team and every pair comes out even.

A balanced design of v teams with k inside has b = λv(v−1)/(k(k−1)) bouts and each team inside r = λ(v−1)/(k−1)
times; that these are whole is necessary, not sufficient, so the blocks are searched for.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations, pairwise

Block = tuple[int, ...]

MOST_NODES = 1_200
MOST_BLOCKS = 130
FEW_BLOCKS = 40
MOST_PASSES = 8


@dataclass(frozen=True, slots=True)
class Blocks:
    """The blocks found; `exhausted` where every stricter evenness of pairs was searched to the end in vain."""

    blocks: tuple[Block, ...]
    exhausted: bool


@dataclass(slots=True)
class _Search:
    """Depth-first search for `bouts` blocks with pair counts between `low` and `high`."""

    teams: int
    inside: int
    bouts: int
    low: int
    high: int
    blocks: list[Block]
    nodes: int = 0
    chosen: list[Block] = field(default_factory=list)
    times: list[int] = field(default_factory=list)
    pairs: dict[tuple[int, int], int] = field(default_factory=dict)

    def run(self) -> bool | None:
        """True when found, False when there is none, None when it was given up."""
        self.times = [0] * self.teams
        self.pairs = dict.fromkeys(combinations(range(self.teams), 2), 0)
        return self._next()

    def _next(self) -> bool | None:
        if len(self.chosen) == self.bouts:
            return True
        for block in self._candidates():
            self.nodes += 1
            if self.nodes > MOST_NODES:
                return None
            self._put(block, 1)
            found = self._next() if self._still_possible() else False
            if found is not False:
                return found
            self._put(block, -1)
        return False

    def _candidates(self) -> list[Block]:
        if not self.chosen:
            return self.blocks[:1]  # the others are this one with the teams renamed
        last = set(self.chosen[-1])
        most_times = math.ceil(self.bouts * self.inside / self.teams)

        def key(block: Block) -> tuple[int, int, int]:
            left_out_again = self.teams - len(last.union(block))
            met = sum(self.pairs[pair] for pair in combinations(block, 2))
            return sum(self.times[team] for team in block), left_out_again, met

        allowed = (
            block
            for block in self._covering()
            if all(self.times[team] < most_times for team in block)
            and all(self.pairs[pair] < self.high for pair in combinations(block, 2))
        )
        return sorted(allowed, key=key)

    def _covering(self) -> list[Block]:
        """Blocks to try: for a perfect design only those with the first pair that is short, since order is free."""
        if self.low < self.high:
            return self.blocks
        short = next((pair for pair, met in self.pairs.items() if met < self.low), None)
        return [b for b in self.blocks if short is not None and short[0] in b and short[1] in b]

    def _put(self, block: Block, sign: int) -> None:
        for team in block:
            self.times[team] += sign
        for pair in combinations(block, 2):
            self.pairs[pair] += sign
        if sign > 0:
            self.chosen.append(block)
        else:
            self.chosen.pop()

    def _still_possible(self) -> bool:
        left = self.bouts - len(self.chosen)
        fewest_times = self.bouts * self.inside // self.teams
        if any(fewest_times - times > left for times in self.times):
            return False
        if sum(max(0, fewest_times - times) for times in self.times) > left * self.inside:
            return False
        short = sum(max(0, self.low - met) for met in self.pairs.values())
        return short <= left * math.comb(self.inside, 2)


def balanced_blocks(teams: int, inside: int, bouts: int) -> Blocks:
    """Blocks with even times inside and pairs as even as the search finds, strictest first."""
    if math.comb(teams, inside) > MOST_BLOCKS:
        return Blocks(_fewest_twice(_greedy(teams, inside, bouts), teams), exhausted=False)
    blocks = list(combinations(range(teams), inside))
    exhausted = True
    for low, high in _windows(teams, inside, bouts):
        search = _Search(teams, inside, bouts, low, high, blocks)
        found = search.run()
        if found:
            return Blocks(_fewest_twice(tuple(search.chosen), teams), exhausted)
        exhausted = exhausted and found is False
        if found is None and len(blocks) > FEW_BLOCKS:
            break  # a wider window would be given up as well; evening out is quicker
    return Blocks(_fewest_twice(_greedy(teams, inside, bouts), teams), exhausted=False)


def _windows(teams: int, inside: int, bouts: int) -> Iterator[tuple[int, int]]:
    """Bounds for the pair counts: as even as they can be, then wider by one at a time."""
    mean = bouts * math.comb(inside, 2) / math.comb(teams, 2)
    tight = math.ceil(mean) - math.floor(mean)
    for width in range(tight, tight + 3):
        lows = range(max(0, math.ceil(mean) - width), math.floor(mean) + 1)
        yield from ((low, low + width) for low in reversed(lows))


def _greedy(teams: int, inside: int, bouts: int) -> tuple[Block, ...]:
    """The teams that were inside least come in; ties: left out last time, met the others least, order."""
    times = [0] * teams
    pairs: dict[tuple[int, int], int] = dict.fromkeys(combinations(range(teams), 2), 0)
    found: list[Block] = []
    for _ in range(bouts):
        block: list[int] = []
        last = found[-1] if found else ()
        while len(block) < inside:
            rest = [team for team in range(teams) if team not in block]
            block.append(min(rest, key=lambda t: (times[t], t in last, _met(pairs, t, block), t)))
        found.append(tuple(sorted(block)))
        for team in block:
            times[team] += 1
        for pair in combinations(found[-1], 2):
            pairs[pair] += 1
    return _evened(found, pairs)


def _evened(found: list[Block], pairs: dict[tuple[int, int], int]) -> tuple[Block, ...]:
    """Let two teams change places between two bouts while pairs then repeat less; times inside stay as they are."""
    improved, passes = True, 0
    while improved and passes < MOST_PASSES:
        improved, passes = False, passes + 1
        for i, j in combinations(range(len(found)), 2):
            for a in sorted(set(found[i]).difference(found[j])):
                for b in sorted(set(found[j]).difference(found[i])):
                    if a in found[i] and b in found[j] and _exchange(found, pairs, i, j, a, b):
                        improved = True
    return tuple(found)


def _exchange(found: list[Block], pairs: dict[tuple[int, int], int], i: int, j: int, a: int, b: int) -> bool:
    """Put b for a in bout i and a for b in bout j, if the sum of squared pair counts falls."""
    with_i = [team for team in found[i] if team != a]
    with_j = [team for team in found[j] if team != b]
    gone = [_pair(a, team) for team in with_i] + [_pair(b, team) for team in with_j]
    come = [_pair(b, team) for team in with_i] + [_pair(a, team) for team in with_j]
    change = Counter(come)
    change.subtract(gone)
    if sum((pairs[p] + n) ** 2 - pairs[p] ** 2 for p, n in change.items()) >= 0:
        return False
    for pair, n in change.items():
        pairs[pair] += n
    found[i], found[j] = tuple(sorted([*with_i, b])), tuple(sorted([*with_j, a]))
    return True


def _pair(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def _met(pairs: dict[tuple[int, int], int], team: int, block: list[int]) -> int:
    return sum(pairs[min(team, other), max(team, other)] for other in block)


def twice_running(blocks: tuple[Block, ...], teams: int) -> int:
    """How often a team is left out of two bouts in a row."""
    return sum(teams - len(set(a).union(b)) for a, b in pairwise(blocks))


def _fewest_twice(blocks: tuple[Block, ...], teams: int) -> tuple[Block, ...]:
    """Swap bouts about while that leaves fewer teams out twice running."""
    best, best_count = list(blocks), twice_running(blocks, teams)
    improved = len(blocks) <= 40
    while improved and best_count:
        improved = False
        for i, j in combinations(range(len(best)), 2):
            best[i], best[j] = best[j], best[i]
            count = twice_running(tuple(best), teams)
            if count < best_count:
                best_count, improved = count, True
            else:
                best[i], best[j] = best[j], best[i]
    return tuple(best)
