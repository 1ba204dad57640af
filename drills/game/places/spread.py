"""Where people stand in a rectangle of 1 × 1, and how they make room for one another. No dice: the same call, the same spots."""

from __future__ import annotations

import math
from collections.abc import Sequence

from drills.game.scene import Point

# Lines of a team from its own end, for small numbers as coaches line them up (common practice, no source).
_LINES: dict[int, tuple[int, ...]] = {
    1: (1,),
    2: (1, 1),
    3: (2, 1),
    4: (1, 2, 1),
    5: (2, 1, 2),
    6: (2, 3, 1),
    7: (2, 3, 2),
    8: (3, 3, 2),
    9: (3, 4, 2),
    10: (4, 3, 3),
    11: (4, 4, 3),
}


def ring(count: int, *, reach: float = 0.36, phase: float = 45.0) -> list[Point]:
    """Round the middle, one in the middle when there are many. `reach` is a share, `phase` in degrees."""
    middle = [(0.5, 0.5)] if count >= 7 else []
    round_it = count - len(middle)
    angles = [math.radians(phase + 360 * n / round_it) for n in range(round_it)]
    # A ring in a rectangle, drawn out to its corners so that the corners are used.
    return [*(_on_square(angle, reach) for angle in angles), *middle]


def rim(count: int, *, inset: float = 0.06, phase: float = 0.5) -> list[Point]:
    """Evenly along the four edges, just inside by a share `inset`, beginning on the lower one.

    `phase` is where the first stands, as a share of the way between two.
    """
    return [_along_rim((n + phase) / count * 4, inset) for n in range(count)]


def lines(count: int, *, near: float, far: float) -> list[Point]:
    """A team in lines from `near` to `far` along the length (shares of it), spread over the width."""
    rows = _LINES.get(count) or _even_rows(count)
    found: list[Point] = []
    for n, row in enumerate(rows):
        x = near + (far - near) * (n / (len(rows) - 1) if len(rows) > 1 else 0.5)
        found += [(x, (place + 0.5) / row * 0.84 + 0.08) for place in range(row)]
    return found


def lattice(count: int, ratio: float) -> list[Point]:
    """Over the whole rectangle, every second row set off a little. `ratio` is length ÷ width in metres."""
    columns = max(1, min(count, round(math.sqrt(count * ratio))))
    rows = math.ceil(count / columns)
    found: list[Point] = []
    for row in range(rows):
        here = min(columns, count - row * columns)
        shift = 0.12 if row % 2 else -0.12
        found += [((n + 0.5 + (shift if here > 1 else 0)) / here, (row + 0.5) / rows) for n in range(here)]
    return [(0.06 + x * 0.88, 0.06 + y * 0.88) for x, y in found]


def pairs(count: int, *, left: float = 0.22, right: float = 0.78) -> list[Point]:
    """Two by two, facing each other along the length, at `left` and `right` (shares of it).

    One left over joins the last pair from the side.
    """
    rows = max(1, count // 2)
    found: list[Point] = []
    for row in range(rows):
        y = (row + 0.5) / rows
        found += [(left, y), (right, y)]
    if count % 2:
        found.append((0.5, found[-1][1] - 0.4 / rows if count > 1 else 0.5))
    return found[:count]


def make_room(
    spots: Sequence[Point], fixed: Sequence[Point], *, gap_m: float, box: tuple[float, float, float, float]
) -> list[Point]:
    """Spots pushed apart until `gap_m` lies between all, and from the `fixed` ones, in the order given; in metres.

    None leaves the box (left, bottom, right, top); where it is too small for all, it ends after 200 rounds.
    """
    moved = [_kept(spot, box) for spot in spots]
    for turn in range(200):
        pushed = False
        for n in range(len(moved)):
            for other in [*range(n), *(-k - 1 for k in range(len(fixed)))]:
                pushed |= _push(moved, fixed, n, other, gap_m, bend=0.0 if turn < 12 else 0.25)
        moved = [_kept(spot, box) for spot in moved]
        if not pushed:
            break
    return moved


def _push(
    moved: list[Point], fixed: Sequence[Point], n: int, other: int, gap_m: float, *, bend: float
) -> bool:
    """`bend` turns the push a little (radians), so that a row too long for its grid gives way to the side."""
    a = moved[n]
    b = moved[other] if other >= 0 else fixed[-other - 1]
    apart = math.dist(a, b)
    if apart >= gap_m - 1e-6:
        return False
    # Two on the same spot are parted in a direction that differs from pair to pair.
    ux, uy = ((a[0] - b[0]) / apart, (a[1] - b[1]) / apart) if apart > 1e-6 else (math.cos(n), math.sin(n))
    turned = bend if n % 2 else -bend
    ux, uy = ux * math.cos(turned) - uy * math.sin(turned), ux * math.sin(turned) + uy * math.cos(turned)
    step = gap_m - apart
    share = 0.5 if other >= 0 else 1.0
    moved[n] = (a[0] + ux * step * share, a[1] + uy * step * share)
    if other >= 0:
        moved[other] = (b[0] - ux * step * share, b[1] - uy * step * share)
    return True


def _kept(spot: Point, box: tuple[float, float, float, float]) -> Point:
    return min(max(spot[0], box[0]), box[2]), min(max(spot[1], box[1]), box[3])


def _on_square(angle: float, reach: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    stretch = 1 / max(abs(c), abs(s)) ** 0.6
    return 0.5 + c * reach * stretch, 0.5 + s * reach * stretch


def _along_rim(way: float, inset: float) -> Point:
    edge, share = int(way) % 4, way % 1
    low, high = inset, 1 - inset
    forth, back = low + (high - low) * share, high - (high - low) * share
    return [(forth, low), (high, forth), (back, high), (low, back)][edge]


def _even_rows(count: int) -> tuple[int, ...]:
    rows = math.ceil(count / 4)
    return tuple(count // rows + (1 if n < count % rows else 0) for n in range(rows))
