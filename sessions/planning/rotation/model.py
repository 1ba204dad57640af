"""What a rotation answers: bouts, how even they came out, the bound, and whether that is proven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason

Places = tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class TeamBout:
    """One bout: who plays, in which games, who stands outside, who rests."""

    number: int
    inside: tuple[str, ...]
    outside: tuple[str, ...]
    resting: tuple[str, ...]
    games: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class TeamRotation:
    """`spread` is the most minus the fewest bouts inside, `bound` the least any plan can reach.

    `proven` is true only where the spread meets the bound. The same for how often two teams meet in a game
    (`pairs_…`, where `pairs_proven` is also true after an exhausted search). `twice_running` counts the times
    a team is left out of two bouts in a row. `cycle` is how many bouts it takes to come out even.
    """

    bouts: tuple[TeamBout, ...]
    spread: int
    bound: int
    proven: bool
    pairs_spread: int
    pairs_bound: int
    pairs_proven: bool
    twice_running: int
    cycle: int
    reasons: tuple[PlanningReason, ...] = ()


@dataclass(frozen=True, slots=True)
class PlayerBout:
    """One bout: the players of each role, who waits, who is not there (late or gone)."""

    number: int
    places: Places
    waiting: tuple[str, ...]
    away: tuple[str, ...] = ()

    @property
    def roles(self) -> dict[str, tuple[str, ...]]:
        """Role → who has it."""
        return dict(self.places)

    def role_of(self, player: str) -> str | None:
        """The player's role, None while waiting or away."""
        return next((role for role, names in self.places if player in names), None)


@dataclass(frozen=True, slots=True)
class PlayerRotation:
    """`spread` is the widest difference of waiting, in bouts, between players who are not exempt.

    For players who are there all the time that is the most minus the fewest bouts waited. For late-comers and
    leavers it is measured against the waiting due while they are there, so it may be a fraction. `bound` is
    the least any plan can reach; `proven` is true where it is met or the search was exhausted. `changes`
    (of bib) and `twice_running` are what came out, with nothing claimed. `bibs` are the (bib, role) of each bout that
    was planned, where pairs decide them.
    """

    bouts: tuple[PlayerBout, ...]
    spread: float
    bound: float
    proven: bool
    changes: int
    twice_running: int
    cycle: int
    reasons: tuple[PlanningReason, ...] = ()
    bibs: tuple[dict[str, tuple[str, str]], ...] = ()

    def waited(self) -> dict[str, int]:
        """Player → number of bouts in which they wait."""
        names = sorted({name for bout in self.bouts for name in everyone(bout)})
        return {name: sum(name in bout.waiting for bout in self.bouts) for name in names}


def everyone(bout: PlayerBout) -> tuple[str, ...]:
    """All players that a bout knows: in a role, waiting or away."""
    return tuple(name for _, names in bout.places for name in names) + bout.waiting + bout.away


def labels(field: str, given: int | Sequence[str], letters: bool) -> tuple[str, ...]:
    """Names as given, or letters (A, B …) or numbers (1, 2 …) for a count. ValueError for repeats."""
    if isinstance(given, int):
        count = whole(field, given, 1)
        return tuple(_letter(i) if letters else str(i + 1) for i in range(count))
    names = tuple(given)
    if not names or len(set(names)) != len(names):
        raise ValueError(f"{field}: names must be there, each once")
    return names


def _letter(index: int) -> str:
    return chr(ord("A") + index) if index < 26 else f"T{index + 1}"


def evenness(counts: Sequence[int]) -> int:
    """Most minus fewest; 0 for none."""
    return max(counts) - min(counts) if counts else 0


def pair_counts(size: int, groups: Sequence[Sequence[int]]) -> dict[tuple[int, int], int]:
    """How often each pair of 0…size−1 is together in one of the groups."""
    found = dict.fromkeys(combinations(range(size), 2), 0)
    for group in groups:
        for pair in combinations(sorted(group), 2):
            found[pair] += 1
    return found
