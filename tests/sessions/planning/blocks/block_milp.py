"""The block for a second solver (scipy's milp, HiGHS), written from the rules of `block_oracle`, over all choices."""

from collections import defaultdict
from itertools import pairwise

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from sessions.planning.blocks import BlockRequest
from tests.sessions.planning.blocks import block_oracle as oracle


class Columns:
    """Columns with their costs, and constraints  Σ coefficient · column ≤ most."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.most_of: list[float] = []
        self.cells: list[tuple[int, int, float]] = []
        self.most: list[float] = []

    def add(self, cost: float = 0, most: float = 1) -> int:
        self.cost.append(cost)
        self.most_of.append(most)
        return len(self.cost) - 1

    def at_most(self, most: float, cells: list[tuple[int, float]]) -> None:
        self.cells += [(len(self.most), column, value) for column, value in cells]
        self.most.append(most)

    def least(self, seconds: float, whole: int) -> float | None:
        """The least cost; the first `whole` columns are whole numbers. None where there is none."""
        row, column, value = zip(*self.cells, strict=True)
        matrix = coo_array((value, (row, column)), shape=(len(self.most), len(self.cost))).tocsr()
        integral = np.arange(len(self.cost)) < whole
        options = {"time_limit": seconds, "mip_rel_gap": 0}
        limits = LinearConstraint(matrix, ub=np.array(self.most))
        bounds = Bounds(0, np.array(self.most_of))
        found = milp(self.cost, constraints=limits, bounds=bounds, integrality=integral, options=options)
        assert found.status in (0, 2), found.message
        return None if found.status == 2 else float(found.fun)


def best_points(request: BlockRequest, *, seconds: float = 60) -> int | None:
    """The most points of a block that has no must and no ruled-out evenings."""
    w, columns = request.weights, Columns()
    x: dict[str, dict[tuple[str, str], int]] = {}
    for slot in request.slots:
        x[slot.key] = {}
        for choice in oracle.offered(request, slot):
            cost = w.unready * (not choice[1])
            if oracle.facts(request, slot, choice)[1] and oracle.near_match(request, slot):
                cost += w.near_match
            if request.fewest_changes and slot.stands and slot.stands != choice:
                cost += w.change
            x[slot.key][choice] = columns.add(cost)
        cells = [(column, 1.0) for column in x[slot.key].values()]
        columns.at_most(1, cells)
        columns.at_most(-1, [(column, -1.0) for column, _ in cells])
    whole = len(columns.cost)
    worth = sum(of_team(request, team, x, columns) for team in request.teams)
    for moment in sorted({(slot.day, slot.starts) for slot in request.slots}):
        taken = defaultdict(list)
        for slot in request.slots:
            if slot.day == moment[0] and slot.starts <= moment[1] < slot.ends:
                for choice, column in x[slot.key].items():
                    _, _, thirds, kit = oracle.facts(request, slot, choice)
                    taken["pitch", slot.pitch].append((column, thirds))
                    for kind, count in kit.items():
                        taken["kit", kind].append((column, count))
        for (what, key), cells in taken.items():
            most = (request.pitches if what == "pitch" else request.kit).get(key)
            if most is not None:
                columns.at_most(most, cells)
    least = columns.least(seconds, whole)
    return None if least is None else round(worth - least)


def of_team(request: BlockRequest, team, x, columns: Columns) -> int:
    """Rules of one team; answers what its targets are worth."""
    slots = sorted((each for each in request.slots if each.team == team.key), key=lambda s: (s.day, s.starts))
    ran = [each for each in request.taught if each.team == team.key]
    rows = sorted(
        [*((each.day, 0, 0, each) for each in ran), *((s.day, 1, s.starts, s) for s in slots)],
        key=lambda row: row[:3],
    )
    for theme in (each.key for each in request.themes):
        not_running(rows, theme, x, columns)
    come_back(request, rows, x, columns)
    hard_evenings(request, rows, x, columns)
    for ready in request.ready:
        cells = [(n, 1) for s in slots for c, n in x[s.key].items() if c[1] == ready.key]
        more = columns.add(request.weights.same_again, np.inf)
        columns.at_most(0 if any(each.ready == ready.key for each in ran) else 1, [*cells, (more, -1)])
    return sum(missed(request, t, slots, x, columns) for t in request.targets if t.age == team.age)


def missed(request: BlockRequest, target, slots, x, columns: Columns) -> int:
    """What is short, beyond half short and over; the cases have nothing that was run in the block."""
    w, minutes = request.weights, target.unit == "minutes"
    per = (
        (w.short_minute, w.forgotten_minute, w.over_minute)
        if minutes
        else (w.short_session, w.forgotten_session, w.over_session)
    )
    short, forgotten, over = (columns.add(each, np.inf) for each in per)
    got = [
        (column, oracle.facts(request, s, c)[0].get(target.theme, 0) if minutes else c[0] == target.theme)
        for s in slots
        for c, column in x[s.key].items()
    ]
    columns.at_most(-target.amount, [(short, -1), *((column, -count) for column, count in got)])
    columns.at_most(-(-target.amount // 2), [(short, 1), (forgotten, -1)])
    columns.at_most(target.amount, [(over, -1), *got])
    return oracle.missed(request, target, 0)


def teaches(row, theme: str, x):
    """(columns that say that a session teaches a theme, whether it did anyway)."""
    if not row[1]:
        return [], row[3].theme == theme
    return [(column, 1) for choice, column in x[row[3].key].items() if choice[0] == theme], False


def not_running(rows, theme: str, x, columns: Columns) -> None:
    for three in zip(rows, rows[1:], rows[2:], strict=False):
        if any(row[1] for row in three):
            each = [teaches(row, theme, x) for row in three]
            columns.at_most(2 - sum(e[1] for e in each), [cell for e in each for cell in e[0]])


def come_back(request: BlockRequest, rows, x, columns: Columns) -> None:
    for row in rows:
        apart = [other for other in rows if 7 <= abs(other[0] - row[0]) <= 14]
        if not (row[1] and apart):
            continue
        alone = columns.add(request.weights.alone)
        for theme in (each.key for each in request.themes):
            others = [teaches(other, theme, x) for other in apart]
            if not any(other[1] for other in others):
                minus = [(column, -1) for other in others for column, _ in other[0]]
                columns.at_most(0, [*teaches(row, theme, x)[0], (alone, -1), *minus])


def hard_evenings(request: BlockRequest, rows, x, columns: Columns) -> None:
    def is_hard(row):
        if not row[1]:
            return [], row[3].hard
        return [(n, 1) for c, n in x[row[3].key].items() if oracle.facts(request, row[3], c)[1]], False

    for before, after in pairwise(rows):
        if after[0] - before[0] < 2 and (before[1] or after[1]):
            both, (a, sure_a), (b, sure_b) = (
                columns.add(request.weights.hard_close),
                is_hard(before),
                is_hard(after),
            )
            columns.at_most(1 - sure_a - sure_b, [*a, *b, (both, -1)])
