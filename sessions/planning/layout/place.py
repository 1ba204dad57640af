"""The search for places: exact, with the constraint solver, in decimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Any

from sessions.planning.layout.ground import (
    BEHIND_GOAL_M,
    RUN_OFF_M,
    Edge,
    Grid,
    LayOut,
    Placed,
    Rectangle,
    Space,
    Turned,
    decimetres,
    turns,
)
from sessions.planning.numbers import at_least
from sessions.planning.reasons import reason

FAR = 20_000  # decimetres, beyond any ground
SEED = 1


def lay_out(
    grids: Sequence[Grid],
    spaces: Sequence[Space],
    *,
    run_off_m: float = RUN_OFF_M,
    behind_goal_m: float = BEHIND_GOAL_M,
    pace_m: float = 1.0,
    seconds: float = 2.0,
) -> LayOut:
    """Places for all grids, close to the corners they are paced from; or the proof that they do not fit.

    Between two grids lies one run-off, which serves both; none where both share edges. Behind a goal that is shot at
    no body may lie for `behind_goal_m` over the grid's whole edge; the clear ground of two such goals may be the same
    (back to back). ValueError for impossible input; meant for up to about six grids.
    """
    at_least("run_off_m", run_off_m, 0)
    at_least("behind_goal_m", behind_goal_m, 0)
    at_least("pace_m", pace_m, 0.3)
    if len({grid.key for grid in grids}) != len(grids) or len({space.key for space in spaces}) != len(spaces):
        raise ValueError("grids, spaces: no two may have the same key")
    search = _Search(grids, spaces, decimetres(run_off_m), decimetres(behind_goal_m))
    status = search.solve(seconds)
    if status in ("OPTIMAL", "FEASIBLE"):
        return LayOut(search.placed(pace_m), proven=status == "OPTIMAL", run_off_m=run_off_m)
    if status != "INFEASIBLE":
        return LayOut((), proven=False, run_off_m=run_off_m, reasons=(reason("layout_not_finished"),))
    widest = search.widest(seconds)
    why = reason("layout_too_tight", grids=len(grids), run_off_m=float(run_off_m))
    if widest is not None:
        why = reason(
            "layout_less_run_off", grids=len(grids), run_off_m=float(run_off_m), widest_m=float(widest)
        )
    return LayOut((), proven=True, run_off_m=run_off_m, widest_run_off_m=widest, reasons=(why,))


class _Search:
    """One variable for each corner; a literal for each (space, turn) of a grid, and for each way to lie apart."""

    def __init__(self, grids: Sequence[Grid], spaces: Sequence[Space], run_off: int, behind: int) -> None:
        self.grids, self.spaces, self.run_off, self.behind = grids, spaces, run_off, behind

    def solve(self, seconds: float) -> str:
        """The solver's status, with the places nearest to the lower-left corners where there are any."""
        self._build(self.run_off)
        self.cp.minimize(sum(x + y for x, y in self.at))
        return self._ask(seconds)

    def widest(self, seconds: float) -> float | None:
        """The widest run-off that would do, in metres."""
        wide = None
        self._build(None)
        wide = self.gap
        self.cp.maximize(wide)
        if self._ask(seconds) != "OPTIMAL":
            return None
        return float(self.solver.value(wide)) / 10

    def _build(self, run_off: int | None) -> None:
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model.CpModel()
        self.gap: Any = self.cp.new_int_var(0, self.run_off, "") if run_off is None else run_off
        self.at = [(self.cp.new_int_var(0, FAR, ""), self.cp.new_int_var(0, FAR, "")) for _ in self.grids]
        self.how: list[dict[tuple[int, Turned], Any]] = []
        for number, grid in enumerate(self.grids):
            ways = {(s, t): self.cp.new_bool_var("") for s in range(len(self.spaces)) for t in turns(grid)}
            self.how.append(ways)
            self.cp.add_exactly_one(ways.values())
            for (space, turned), literal in ways.items():
                self._inside(number, self.spaces[space], turned, literal)
        for one, other in combinations(range(len(self.grids)), 2):
            self._keep_apart(one, other)

    def _inside(self, number: int, space: Space, turned: Turned, literal: Any) -> None:
        """Inside its space with its run-off, off taken ground, and nothing beyond the space behind an unstopped goal."""
        x, y = self.at[number]
        long, wide = math.floor(space.length_m * 10 + 1e-6), math.floor(space.width_m * 10 + 1e-6)
        room = {"left": x, "bottom": y, "right": long - x - turned.length, "top": wide - y - turned.width}
        for edge, left in room.items():
            self.cp.add(left >= (0 if edge in space.open else self.gap)).only_enforce_if(literal)
        gx, gy, gl, gw = turned.grid
        beyond = {"left": x + gx, "bottom": y + gy, "right": long - x - gx - gl, "top": wide - y - gy - gw}
        for edge in turned.shot_at:
            if edge not in space.stopped and edge not in space.open:
                self.cp.add(beyond[edge] >= self.behind).only_enforce_if(literal)
        for taken in space.taken:
            box = (
                decimetres(taken.x_m),
                decimetres(taken.y_m),
                decimetres(taken.length_m),
                decimetres(taken.width_m),
            )
            self._apart((x, y, turned.length, turned.width), box, self.gap, [literal])
            for clear in self._behind_goals(x, y, turned):
                self._apart(clear, box, 0, [literal])

    def _keep_apart(self, one: int, other: int) -> None:
        touch = self.grids[one].shares_edges and self.grids[other].shares_edges
        for (space, turned), here in self.how[one].items():
            for (other_space, other_turned), there in self.how[other].items():
                if space != other_space:
                    continue
                body = (*self.at[one], turned.length, turned.width)
                other_body = (*self.at[other], other_turned.length, other_turned.width)
                self._apart(body, other_body, 0 if touch else self.gap, [here, there])
                for clear in self._behind_goals(*self.at[one], turned):
                    self._apart(clear, other_body, 0, [here, there])
                for clear in self._behind_goals(*self.at[other], other_turned):
                    self._apart(clear, body, 0, [here, there])

    def _behind_goals(self, x: Any, y: Any, turned: Turned) -> list[tuple[Any, Any, int, int]]:
        gx, gy, gl, gw = turned.grid
        return [
            (x + gx + dx, y + gy + dy, long, wide)
            for dx, dy, long, wide in (self._clear(e, gl, gw) for e in turned.shot_at)
        ]

    def _clear(self, edge: Edge, length: int, width: int) -> tuple[int, int, int, int]:
        """Ground behind an edge, from the grid's lower-left corner."""
        far = self.behind
        return {
            "left": (-far, 0, far, width),
            "right": (length, 0, far, width),
            "bottom": (0, -far, length, far),
            "top": (0, width, length, far),
        }[edge]

    def _apart(self, one: Sequence[Any], other: Sequence[Any], gap: Any, when: list[Any]) -> None:
        """One lies to the left, right, below or above the other, with a gap."""
        x, y, length, width = one
        ox, oy, olength, owidth = other
        sides = [
            (ox, x + length + gap),
            (x, ox + olength + gap),
            (oy, y + width + gap),
            (y, oy + owidth + gap),
        ]
        literals = []
        for beyond, end in sides:
            literals.append(self.cp.new_bool_var(""))
            self.cp.add(beyond >= end).only_enforce_if(literals[-1])
        self.cp.add_bool_or(literals).only_enforce_if(when)

    def _ask(self, seconds: float) -> str:
        from ortools.sat.python import cp_model

        self.solver = cp_model.CpSolver()
        self.solver.parameters.num_workers = 1
        self.solver.parameters.random_seed = SEED
        self.solver.parameters.max_time_in_seconds = max(1e-3, seconds)
        return str(self.solver.status_name(self.solver.solve(self.cp)))

    def placed(self, pace_m: float) -> tuple[Placed, ...]:
        """The places that the solver found."""
        return tuple(self._placed(number, pace_m) for number in range(len(self.grids)))

    def _placed(self, number: int, pace_m: float) -> Placed:
        x, y = (self.solver.value(each) for each in self.at[number])
        (at, turned), _ = next(p for p in self.how[number].items() if self.solver.boolean_value(p[1]))
        space = self.spaces[at]
        gx, gy, gl, gw = turned.grid
        grid = _rectangle(x + gx, y + gy, gl, gw)
        corner, paces = paced(space, grid, pace_m)
        return Placed(
            key=self.grids[number].key,
            space=space.key,
            grid=grid,
            body=_rectangle(x, y, turned.length, turned.width),
            clear=tuple(_rectangle(*clear) for clear in self._behind_goals(x, y, turned)),
            turned=turned.turned,
            corner=corner,
            paces=paces,
        )


def _rectangle(x: int, y: int, length: int, width: int) -> Rectangle:
    return Rectangle(x / 10, y / 10, length / 10, width / 10)


def paced(space: Space, grid: Rectangle, pace_m: float) -> tuple[str, tuple[int, int]]:
    """The corner of the space that a grid is paced from, with the paces along its length and its width."""
    corner, along, across = _nearest_corner(space, grid)
    return corner, (math.floor(along / pace_m + 0.5), math.floor(across / pace_m + 0.5))


def _nearest_corner(space: Space, grid: Rectangle) -> tuple[str, float, float]:
    """The corner of the space that the grid is paced from, with the metres along its length and width."""
    right = space.length_m - grid.x_m - grid.length_m
    top = space.width_m - grid.y_m - grid.width_m
    side, along = ("left", grid.x_m) if grid.x_m <= right else ("right", right)
    end, across = ("lower", grid.y_m) if grid.y_m <= top else ("upper", top)
    return f"{end} {side}", along, across
