"""Two equal teams, shuffled every bout, so that everybody plays with and against everybody alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from sessions.planning.numbers import whole
from sessions.planning.rotation.model import evenness, labels, pair_counts

Split = tuple[tuple[int, ...], tuple[int, ...]]

MOST_SWAP_ROUNDS = 30


@dataclass(frozen=True, slots=True)
class Shuffle:
    """Bouts as two teams each; spreads of how often two players are together and opposed.

    `proven` is true where both spreads are as small as the numbers allow.
    """

    bouts: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]
    together_spread: int
    opposed_spread: int
    proven: bool


def shuffle_teams(*, players: int | Sequence[str], bouts: int) -> Shuffle:
    """Share an even number of players out into two teams anew in every bout.

    4, 8, 12, 20 and 24 players use the rows of a Hadamard matrix (quadratic residues), which balance exactly after players
    − 1 bouts; 6 use all ten splits; other numbers the least repeated split that swaps reach. Raises ValueError for an odd
    number of players or fewer than 4, for a name that comes twice, and for no bouts.
    """
    names = labels("players", players, letters=False)
    if len(names) % 2 or len(names) < 4:
        raise ValueError(f"players: two equal teams need an even number from 4 on, not {len(names)}")
    splits = _splits(len(names), whole("bouts", bouts, 1))
    together = pair_counts(len(names), [team for split in splits for team in split])
    met, apart = list(together.values()), [bouts - value for value in together.values()]
    return Shuffle(
        bouts=tuple((_named(names, a), _named(names, b)) for a, b in splits),
        together_spread=evenness(met),
        opposed_spread=evenness(apart),
        proven=evenness(met) == (1 if sum(met) % len(met) else 0),
    )


def _named(names: tuple[str, ...], team: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(names[player] for player in team)


def _splits(players: int, bouts: int) -> list[Split]:
    known = _all_splits(players) if players <= 6 else _residue_splits(players)
    if not known:
        return _searched(players, bouts, [])
    whole_rounds = known * (bouts // len(known))
    rest = bouts % len(known)
    return whole_rounds + known[:rest]


def _all_splits(players: int) -> list[Split]:
    return [
        (team, tuple(p for p in range(players) if p not in team))
        for team in combinations(range(players), players // 2)
        if 0 in team
    ]


def _residue_splits(players: int) -> list[Split]:
    """Rows of a Hadamard matrix of order q + 1 for a prime q ≡ 3 (mod 4); empty for other numbers."""
    q = players - 1
    if q % 4 != 3 or any(q % d == 0 for d in range(2, int(q**0.5) + 1)):
        return []
    squares = {x * x % q for x in range(1, q)}
    found = []
    for shift in range(q):
        team = (0, *sorted(1 + (s + shift) % q for s in squares))
        found.append((team, tuple(p for p in range(players) if p not in team)))
    return found


def _searched(players: int, bouts: int, splits: list[Split]) -> list[Split]:
    """Bout by bout: start from a plain split, swap two players while pairs repeat less."""
    met = dict.fromkeys(combinations(range(players), 2), 0)
    for bout in range(bouts):
        order = [(p * (1 + bout % (players - 1)) + bout) % players for p in range(players)]
        order = order if len(set(order)) == players else list(range(players))
        split = _swapped(order[: players // 2], order[players // 2 :], met)
        for team in split:
            for pair in combinations(team, 2):
                met[pair] += 1
        splits.append(split)
    return splits


def _swapped(first: list[int], second: list[int], met: dict[tuple[int, int], int]) -> Split:
    def cost(a: list[int], b: list[int]) -> int:
        return sum(
            (met[pair] + 1) ** 2 - met[pair] ** 2 for team in (a, b) for pair in combinations(sorted(team), 2)
        )

    best = cost(first, second)
    for _ in range(MOST_SWAP_ROUNDS):
        trials = []
        for i, j in ((i, j) for i in range(len(first)) for j in range(len(second))):
            a, b = first.copy(), second.copy()
            a[i], b[j] = second[j], first[i]
            trials.append((cost(a, b), i, j))
        lowest, i, j = min(trials)
        if lowest >= best:
            break
        best = lowest
        first[i], second[j] = second[j], first[i]
    teams = sorted((tuple(sorted(first)), tuple(sorted(second))))
    return teams[0], teams[1]
