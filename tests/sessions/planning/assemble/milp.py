"""The model of a session for a second solver (scipy's milp, HiGHS), written from the rules and over all options."""

from collections import defaultdict

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from sessions.planning.assemble import Offer, Request
from tests.sessions.planning.assemble import oracle


class Rows:
    """Constraints  Σ coefficient · column ≤ most, collected."""

    def __init__(self) -> None:
        self.cells: list[tuple[int, int, float]] = []
        self.most: list[float] = []

    def at_most(self, most: float, cells: list[tuple[int, float]]) -> None:
        self.cells += [(len(self.most), column, value) for column, value in cells]
        self.most.append(most)


def best_points(request: Request, library: tuple[Offer, ...], *, seconds: float = 60) -> float | None:
    """The most points; None when there is no session. Columns: options, stays, set-up saved, past the peak, off the curve."""
    parts = range(len(request.parts))
    options = [(at, *pick) for at in parts for pick in oracle.picks(request, library, at)]
    column = {at: [n for n, option in enumerate(options) if option[0] == at] for at in parts}
    stays = [
        (at, cones)
        for at in parts[1:]
        for cones in sorted(
            {options[n][2].cones for n in column[at]} & {options[n][2].cones for n in column[at - 1]} - {""}
        )
    ]
    first_stay = len(options)
    first_saved = first_stay + len(stays)
    first_past = first_saved + len(stays)
    first_off = first_past + len(parts) - 1
    total = first_off + len(parts) - 1
    rows = Rows()
    for at in parts:
        rows.at_most(1, [(n, 1) for n in column[at]])
        rows.at_most(-1, [(n, -1) for n in column[at]])
    for place, (at, cones) in enumerate(stays):
        for part in (at - 1, at):
            rows.at_most(
                0, [(first_stay + place, 1), *((n, -1) for n in column[part] if options[n][2].cones == cones)]
            )
        rows.at_most(0, [(first_saved + place, 1), (first_stay + place, -99)])
        own = [
            (n, -oracle.before_start(request, at, *options[n][1:3]))
            for n in column[at]
            if options[n][2].cones == cones
        ]
        rows.at_most(0, [(first_saved + place, 1), *own])
    limits(request, options, rows, first_stay, first_saved, len(stays))
    for step in parts[:-1]:
        before = [(n, options[n][1].effort_cr10) for n in column[step]]
        after = [(n, options[n][1].effort_cr10) for n in column[step + 1]]
        past, off = first_past + step, first_off + step
        rows.at_most(0, [*before, *((n, -e) for n, e in after), (past, -10), (off, -1)])
        rows.at_most(10, [*after, *((n, -e) for n, e in before), (past, 10), (off, -1)])
        if step:
            rows.at_most(0, [(past - 1, 1), (past, -1)])
    worth = np.zeros(total)
    for n, (_, offer, way, minutes) in enumerate(options):
        worth[n] = oracle.points(request, ((offer, way, minutes),))
    worth[first_stay:first_saved] = request.weights.moves
    worth[first_off:] = -request.weights.effort
    whole = np.ones(total)
    whole[first_saved:first_past] = whole[first_off:] = 0
    upper = np.ones(total)
    upper[first_saved:first_past] = 99
    upper[first_off:] = 10
    lines, columns, values = (np.array(each) for each in zip(*rows.cells, strict=True))
    matrix = coo_array((values, (lines, columns)), shape=(len(rows.most), total)).tocsr()
    found = milp(
        -worth,
        constraints=LinearConstraint(matrix, ub=np.array(rows.most)),
        integrality=whole,
        bounds=Bounds(np.zeros(total), upper),
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    if found.status == 2:
        return None
    assert found.status == 0, found.message
    return float(-found.fun) - request.weights.moves * (len(parts) - 1)


def limits(request: Request, options: list, rows: Rows, stay: int, saved: int, stays: int) -> None:
    """The limits on sums and "each drill once"."""
    steps = len(request.parts) - 1
    full, less = request.changeover_minutes, request.changeover_minutes - request.same_cones_minutes
    stay_columns = [(stay + n, -less) for n in range(stays)]
    sums = {
        "minutes": (request.minutes - request.clear_minutes, [o[3] for o in options]),
        "load": (
            (request.load_au or 0) / request.k + 1e-6,
            [o[1].effort_cr10 * o[3] for o in options],
        ),
    }
    for name, (most, uses) in sums.items():
        if request.holds(name):
            rows.at_most(most - full * steps, [*enumerate(uses), *stay_columns])
    if request.holds("headers"):
        rows.at_most(request.headers, [(n, o[1].headers_per_player) for n, o in enumerate(options)])
    if request.holds("set_up"):
        set_up = [(n, oracle.before_start(request, *o[:3])) for n, o in enumerate(options)]
        rows.at_most(request.set_up_minutes, [*set_up, *((saved + n, -1) for n in range(stays))])
    of_drill = defaultdict(list)
    for n, option in enumerate(options):
        of_drill[option[1].drill].append((n, 1))
    for cells in of_drill.values() if request.holds("once") else ():
        rows.at_most(1, cells)
