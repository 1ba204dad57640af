"""Round robin by the circle method: every team meets every other once."""

from __future__ import annotations

from collections.abc import Sequence

from sessions.planning.rotation.model import labels

Game = tuple[str, str]


def round_robin(teams: int | Sequence[str]) -> tuple[tuple[Game, ...], ...]:
    """Rounds of games: n−1 rounds for even n; for odd n n rounds, in each of which one team has no game.

    One team stands still, the others turn around it by one place a round; with an odd number the team that
    would stand still is missing. n(n−1)/2 games in all.
    """
    names = labels("teams", teams, letters=True)
    return tuple(tuple((names[a], names[b]) for a, b in games) for games in circle(len(names)))


def circle(count: int) -> list[list[tuple[int, int]]]:
    """The same with team numbers from 0."""
    ring = list(range(count)) + ([-1] if count % 2 else [])
    rounds = []
    for _ in range(len(ring) - 1):
        half = len(ring) // 2
        facing = zip(ring[:half], reversed(ring[half:]), strict=True)
        rounds.append([(min(a, b), max(a, b)) for a, b in facing if -1 not in (a, b)])
        ring = [ring[0], ring[-1], *ring[1:-1]]
    return rounds
