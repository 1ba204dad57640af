"""Fit by brute force for games of two sides without keepers: every number tried, every whole-metre grid measured.

Written from the table of terms alone, and shares no code with the search but the format and the design's facts.
"""

import math
from collections.abc import Iterable
from functools import cache
from itertools import product

from drills.game.design import Design

Numbers = tuple[
    int, int, int, int, int
]  # first side, second side, own outside each, neutrals in, neutrals out


Kinds = tuple[bool, bool, bool]  # neutrals inside, neutrals outside, own players outside


def allowed(design: Design, numbers: Numbers) -> bool:
    a, b, own, n_in, n_out = numbers
    first, second = (side.inside for side in design.format.sides)
    neutrals, planned = n_in + n_out, design.format.neutrals
    inside, wished = a + b + n_in, design.format.players_inside
    if abs((a - b) - (first - second)) > 1 or (first == second and b > a):
        return False
    if own and (planned or first != second or first < 3 or own > 2):
        return False
    if neutrals > max(2, 2 * planned) or neutrals > 2 * max(a, b):
        return False
    one_place = neutrals <= 2 and 0 in (n_in, n_out)
    near = planned > 0 and abs(n_in - design.format.neutrals_inside) <= 1
    if neutrals and not (one_place or near):
        return False
    players = a + b + 2 * own + neutrals
    overload = ((a + own + neutrals) / b) / ((first + planned) / second)
    if not 0.5 - 1e-9 <= overload <= 2 + 1e-9:
        return False
    return wished / 2 <= inside <= 2 * wished and players >= design.least_players


def numbers_far(design: Design, numbers: Numbers) -> float:
    a, b, own, n_in, n_out = numbers
    fmt = design.format
    first, second = (side.inside for side in fmt.sides)
    overload = ((a + own + n_in + n_out) / b) / ((first + fmt.neutrals) / second)
    appear = (
        ((n_in > 0) != (fmt.neutrals_inside > 0)) + ((n_out > 0) != (fmt.neutrals_outside > 0)) + (own > 0)
    )
    return (
        abs(math.log(overload))
        + abs(math.log((a + b + n_in) / fmt.players_inside))
        + 0.25 * abs((a - b) - (first - second))
        + 0.3 * appear
        + 0.02 * own  # none of these designs has own players outside
    )


def whole_teams(numbers: Numbers, waiting: int) -> bool:
    a, b, own, n_in, n_out = numbers
    return a == b and (n_in + n_out) % (a + own) == 0 and waiting % (a + own) == 0


def ground_far(design: Design, inside: int, outside: bool, length: float, width: float) -> float:
    """Over both ways to lay it and every whole-metre grid in this share of the free space; infinite when none fits."""
    return min(_one_way(design, inside, outside, *room) for room in ((length, width), (width, length)))


def _one_way(design: Design, inside: int, outside: bool, length: float, width: float) -> float:
    room = (length - 2 * outside, width - 2 * outside)
    planned = design.format.players_inside
    area = design.length_m * design.width_m * inside / planned
    ratio = design.length_m / design.width_m
    tightest = max(12 * inside, 0.35 * area)
    if tightest > area:
        tightest = 0.9 * area
    if inside == planned and design.length_m <= room[0] and design.width_m <= room[1]:
        return 0.0
    # A grid that is too small for the rule is refused after the nearest one was chosen, as larger is always nearer.
    found = math.inf
    for x, y in product(range(1, math.floor(room[0]) + 1), range(1, math.floor(room[1]) + 1)):
        shape = abs(math.log(x / y / ratio))
        if shape <= math.log(2.5) and x * y >= tightest - 1e-9:
            found = min(found, 0.5 * abs(math.log(x * y / area)) + 0.1 * shape)
    return found


class Oracle:
    """The nearest distance for a design in a free space; remembers grids, which do not depend on the turn-out."""

    def __init__(self, design: Design, length_m: float, width_m: float) -> None:
        self.design = design
        self.free = (length_m, width_m)
        first, second = (side.inside for side in design.format.sides)
        self.rotates = first == second and design.format.neutrals % first == 0
        self.ground = cache(self._ground)
        self.one_grid = cache(self._one_grid)

    def shares_of_space(self, grids: int) -> list[tuple[float, float]]:
        """What each of so many grids has in every array, with 2 m between two, on ground that is open all round."""
        length, width = self.free
        shares = []
        for columns, rows in product(range(1, grids + 1), repeat=2):
            if columns * rows >= grids and (columns - 1) * rows < grids and columns * (rows - 1) < grids:
                share = (length - 2 * (columns - 1)) / columns, (width - 2 * (rows - 1)) / rows
                shares += [share] if min(share) > 0 else []
        return shares

    def _ground(self, inside: int, outside: bool, share: tuple[float, float]) -> float:
        return ground_far(self.design, inside, outside, *share)

    def _one_grid(self, players: int, waiting: int, share: tuple[float, float]) -> list[tuple[float, Kinds]]:
        """Distances of all numbers for so many players in one grid while so many are off, nearest first, and the kinds of helpers."""
        found = []
        first, second = (side.inside for side in self.design.format.sides)
        # The second side from the first and the difference, one either way: others are not allowed anyway.
        for a, more, own in product(range(1, players + 1), (-1, 0, 1), (0, 1, 2)):
            b = a - (first - second) + more
            rest = players - a - b - 2 * own
            for n_in in range(rest + 1) if b >= 1 else ():
                numbers = (a, b, own, n_in, rest - n_in)
                if allowed(self.design, numbers):
                    rotation = 0.05 * (self.rotates and not whole_teams(numbers, waiting))
                    outside = own + rest - n_in > 0
                    ground = self.ground(a + b + n_in, outside, share)
                    kinds = n_in > 0, rest - n_in > 0, own > 0
                    found.append((numbers_far(self.design, numbers) + rotation + ground, kinds))
        return sorted(each for each in found if each[0] < math.inf)

    def single_grid(self, players: int) -> list[float]:
        """The distances of every set-up in one grid, nearest first; with nobody off where that works."""
        return self.single_with(players, [0]) or self.single_with(players, range(1, players // 4 + 1))

    def single_with(self, players: int, off: Iterable[int]) -> list[float]:
        return sorted(
            far + 3 * waiting / players
            for waiting in off
            for far, _ in self.one_grid(players - waiting, waiting, self.free)
        )

    def nearest(self, players: int) -> float:
        best = self.nearest_with(players, [0])
        return best if best < math.inf else self.nearest_with(players, range(1, players // 4 + 1))

    def nearest_with(self, players: int, off: Iterable[int]) -> float:
        best = math.inf
        most = 6 if self.design.format.players <= 5 else 3
        for grids, waiting in product(range(1, most + 1), off):
            extra = 3 * waiting / players + 0.15 * (grids - 1)
            for share, parts in product(self.shares_of_space(grids), self.splits(players - waiting, grids)):
                lists = [self.one_grid(part, waiting, share) for part in parts]
                if all(lists):
                    apart = 0.15 * math.log(max(parts) / min(parts))
                    best = min(best, self.together(lists) / grids + extra + apart)
        return best

    def together(self, lists: list[list[tuple[float, Kinds]]]) -> float:
        """The least sum of one distance for each grid; games of unlike kinds cost 0.2 on the mean."""
        mixed = sum(distances[0][0] for distances in lists)
        if len({distances[0][1] for distances in lists}) == 1:
            return mixed
        alike = [mixed + 0.2 * len(lists)]
        for kinds in {kinds for _, kinds in lists[0]}:
            of_kind = [[far for far, each in distances if each == kinds] for distances in lists]
            if all(of_kind):
                alike.append(sum(far[0] for far in of_kind))
        return min(alike)

    def splits(self, players: int, grids: int) -> list[tuple[int, ...]]:
        """As evenly as can be."""
        if players < grids:
            return []
        return [tuple(players // grids + (number < players % grids) for number in range(grids))]
