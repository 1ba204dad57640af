"""Round robin by the circle method: every team meets every other once."""

from __future__ import annotations


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
