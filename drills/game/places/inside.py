"""Who starts where inside the grid, kind of activity by kind of activity. Shares of length and width."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from drills.game.places import spread
from drills.game.scene import Point


@dataclass(frozen=True)
class Inside:
    """How many stand inside: a count per side as written, and neutrals. `ratio` is length ÷ width."""

    sides: tuple[int, ...]
    neutrals: int
    ratio: float


@dataclass(frozen=True)
class Spots:
    """Where those inside stand: a list of points per side as written, and the neutrals'; shares of length and width."""

    sides: tuple[list[Point], ...]
    neutrals: list[Point]


def spots(activity: str, inside: Inside) -> Spots:
    """Where those inside stand at the start of such an activity. Raises ValueError for one that is not known."""
    place = _PLACES.get(activity)
    if place is None:
        raise ValueError(f"activity: {activity!r} is not one of {', '.join(sorted(_PLACES))}")
    return place(inside)


def _mingled(inside: Inside) -> Spots:
    """The first side wide, the second tight inside it, others between; neutrals in the middle."""
    reaches, phases = (0.38, 0.2, 0.3, 0.14), (45.0, 0.0, 20.0, 70.0)
    sides = tuple(
        spread.ring(count, reach=reaches[n], phase=phases[n]) if count else []
        for n, count in enumerate(inside.sides)
    )
    return Spots(sides, _neutrals(inside.neutrals))


def _rondo(inside: Inside) -> Spots:
    rest = tuple(spread.ring(count, reach=0.14, phase=20.0) if count else [] for count in inside.sides[1:])
    return Spots((spread.rim(inside.sides[0]), *rest), _neutrals(inside.neutrals))


def _two_ends(inside: Inside) -> Spots:
    """Each side in lines in front of its own end, the first on the left."""
    found: list[list[Point]] = []
    for n, count in enumerate(inside.sides):
        rows = spread.lines(count, near=0.12, far=0.56) if count else []
        found.append(rows if n % 2 == 0 else [(1 - x, 1 - y) for x, y in rows])
    return Spots(tuple(found), _neutrals(inside.neutrals))


def _waves(inside: Inside) -> Spots:
    """The first side side by side at the start, the others between it and the goal on the right."""
    first = [(0.07, _share(n, inside.sides[0])) for n in range(inside.sides[0])]
    rest = tuple(
        [(0.62 + 0.1 * k, _share(n, count)) for n in range(count)] for k, count in enumerate(inside.sides[1:])
    )
    return Spots((first, *rest), [(0.4, _share(n, inside.neutrals)) for n in range(inside.neutrals)])


def _finishing(inside: Inside) -> Spots:
    """Two rows that go in turn towards the goal on the right; those who defend stand before it."""
    first = [(0.34 - 0.1 * (n // 2), 0.3 if n % 2 == 0 else 0.7) for n in range(inside.sides[0])]
    rest = tuple([(0.72, _share(n, count)) for n in range(count)] for count in inside.sides[1:])
    return Spots((first, *rest), [(0.6, _share(n, inside.neutrals)) for n in range(inside.neutrals)])


def _pattern(inside: Inside) -> Spots:
    """A pattern's stations; with more people than six, the rest wait behind the first."""
    stations = min(inside.sides[0], 6)
    first = spread.ring(stations, reach=0.38, phase=180.0)
    queue = [(first[0][0] - 0.09 * n, first[0][1]) for n in range(1, inside.sides[0] - stations + 1)]
    rest = tuple(spread.ring(count, reach=0.16, phase=0.0) if count else [] for count in inside.sides[1:])
    return Spots((first + queue, *rest), _neutrals(inside.neutrals))


def _pairs(inside: Inside) -> Spots:
    first = spread.pairs(inside.sides[0]) if len(inside.sides) == 1 else _column(inside.sides[0], 0.2)
    rest = tuple(_column(count, 0.8 - 0.1 * n) for n, count in enumerate(inside.sides[1:]))
    return Spots((first, *rest), _neutrals(inside.neutrals))


def _duel(inside: Inside) -> Spots:
    """Face to face, the first side with the ball on the left."""
    columns = (0.14, 0.62, 0.8, 0.9)
    return Spots(
        tuple(_column(count, columns[n]) for n, count in enumerate(inside.sides)), _neutrals(inside.neutrals)
    )


def _set_piece(inside: Inside) -> Spots:
    """The taker in the lower right corner, the others before the goal on the right."""
    others = max(0, inside.sides[0] - 1)
    first = [(0.97, 0.04), *((0.66 + 0.1 * (n % 2), _share(n, others, 0.2)) for n in range(others))]
    rest = tuple(
        [(0.86 - 0.1 * (n % 2), _share(n, count, 0.22)) for n in range(count)] for count in inside.sides[1:]
    )
    return Spots(
        (first[: inside.sides[0]], *rest), [(0.5, _share(n, inside.neutrals)) for n in range(inside.neutrals)]
    )


def _everywhere(inside: Inside) -> Spots:
    """All over the grid; a second side (taggers) in the middle."""
    rest = tuple(spread.ring(count, reach=0.12, phase=0.0) if count else [] for count in inside.sides[1:])
    return Spots((spread.lattice(inside.sides[0], inside.ratio), *rest), _neutrals(inside.neutrals))


def _keepers(inside: Inside) -> Spots:
    """Those who serve stand in an arc before the goal on the right."""
    first = [(0.42 + 0.08 * (n % 2), _share(n, inside.sides[0])) for n in range(inside.sides[0])]
    rest = tuple(_column(count, 0.7) for count in inside.sides[1:])
    return Spots((first, *rest), _neutrals(inside.neutrals))


def _neutrals(count: int) -> list[Point]:
    """One in the middle, more in a row across the length."""
    return [(0.5, _share(n, count, 0.3)) for n in range(count)]


def _column(count: int, x: float) -> list[Point]:
    return [(x, _share(n, count)) for n in range(count)]


def _share(n: int, count: int, edge: float = 0.08) -> float:
    return edge + (1 - 2 * edge) * (n + 0.5) / count


_PLACES: dict[str, Callable[[Inside], Spots]] = {
    "arrival": _everywhere,
    "warm-up": _everywhere,
    "fun game": _everywhere,
    "rondo": _rondo,
    "possession": _mingled,
    "directional game": _two_ends,
    "match": _two_ends,
    "waves": _waves,
    "finishing": _finishing,
    "pattern": _pattern,
    "technique": _pairs,
    "duel": _duel,
    "set piece": _set_piece,
    "keeper": _keepers,
}
