"""The constraint solver as every model of this package asks it: one worker, one seed, a share of the time, and a watcher."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import monotonic
from typing import Any

SEED = 1
WORKERS = 1  # more would be faster and would not repeat their answers
ASK_AGAIN_S = 0.25

# Told the best objective so far (None before there is one) and the bound; answers whether to go on. From any thread.
BlockWatch = Callable[[float | None, float | None], bool]


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that is made as small as it can be: what it came to, and what it cannot be less than, in its own unit.

    `proven` says that nothing less is possible (with what stands before it in the order kept as it is).
    """

    name: str
    value: int
    bound: float
    proven: bool

    @property
    def gap(self) -> float:
        """How much less it could be at most, as a share of the bound (of 1 where the bound is less); 0 when proven."""
        return gap_of(self.value, self.bound)


@dataclass(frozen=True, slots=True)
class MeasuredAnswer:
    """What an answer comes to, in the order asked for; `seconds` are the wall's. Without measures there was no time for one."""

    measures: tuple[Measure, ...]
    seconds: float
    workers: int = field(default=WORKERS, kw_only=True)

    @property
    def proven(self) -> bool:
        """Whether nothing better exists, in each thing that was measured."""
        return bool(self.measures) and all(each.proven for each in self.measures)


def gap_of(value: float, bound: float) -> float:
    """(value − bound) ÷ max(1, bound), never below 0: how far a sum that shall be small may be from the best."""
    return max(0.0, value - bound) / max(1.0, bound)


class Clock:
    """Seconds of the wall that are left for all questions together, and the watcher who may end them sooner."""

    def __init__(self, seconds: float, watch: BlockWatch | None = None) -> None:
        import ortools.sat.python.cp_model  # noqa: F401 - loading it is not what the seconds are for

        self.seconds = seconds
        self._ends, self.watch, self.stopped = monotonic() + seconds, watch, False
        self._began = monotonic()

    @property
    def left_s(self) -> float:
        return 0.0 if self.stopped else max(0.0, self._ends - monotonic())

    @property
    def spent_s(self) -> float:
        return monotonic() - self._began

    def tell(self, value: float | None, bound: float | None) -> None:
        """Tell the watcher of an objective and a bound (units of the model); ends all that is left where it says so."""
        if self.watch is not None and not self.stopped and not self.watch(value, bound):
            self.stopped = True


@dataclass(frozen=True, slots=True)
class Solved:
    """`solver` holds the values of the best solution where `found`; `bound` is what the objective cannot be less than."""

    solver: Any
    found: bool
    impossible: bool
    proven: bool
    bound: float


def ask(
    cp: Any,
    clock: Clock,
    *,
    seconds: float = math.inf,
    work_s: float = math.inf,
    quiet: bool = False,
) -> Solved:
    """Solve a model within the clock's seconds, and within `seconds` where that is less.

    `work_s` is counted by the solver's own steps (about seconds on a quiet machine), so that an answer that it ends is the
    same each time. A `quiet` search tells the watcher no objective and no bound: it is one of several.
    """
    from ortools.sat.python import cp_model

    class Teller(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            clock.tell(self.objective_value, self.best_objective_bound)
            if clock.stopped:
                self.stop_search()

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = SEED
    # The whole relaxation at once, and no search for symmetry: measured twice as fast as the defaults on these models.
    solver.parameters.linearization_level = 2
    solver.parameters.add_lp_constraints_lazily = False
    solver.parameters.symmetry_level = 0
    if work_s < math.inf:
        solver.parameters.max_deterministic_time = work_s
    solver.parameters.max_time_in_seconds = max(1e-3, min(seconds, clock.left_s))
    with _asked_between(clock, solver):
        status = str(solver.status_name(solver.solve(cp, Teller() if clock.watch and not quiet else None)))
    found = status in ("OPTIMAL", "FEASIBLE")
    return Solved(
        solver=solver,
        found=found,
        impossible=status == "INFEASIBLE",
        proven=status == "OPTIMAL",
        bound=solver.best_objective_bound if found else -math.inf,
    )


@contextmanager
def _asked_between(clock: Clock, solver: Any) -> Iterator[None]:
    """Ask the watcher also while nothing better is found, so that a search can be stopped at any time."""
    if clock.watch is None:
        yield
        return
    over = threading.Event()

    def go_on_asking() -> None:
        while not over.wait(ASK_AGAIN_S):
            clock.tell(None, None)
            if clock.stopped:
                solver.stop_search()

    asker = threading.Thread(target=go_on_asking, daemon=True)
    asker.start()
    try:
        yield
    finally:
        over.set()
        asker.join()


def in_order(
    cp: Any, levels: Sequence[tuple[str, Any]], variables: Sequence[Any], clock: Clock
) -> tuple[tuple[Measure, ...], list[int]]:
    """Make the first sum as small as it can be, then the next with that kept, and so on.

    Answers a measure for each, and the values of `variables` in the last solution; those are empty where there is none
    within the clock's seconds. `levels` are (name, sum) of a model that always has a solution.
    """
    measures: list[Measure] = []
    values: list[int] = []
    for at, (name, sum_) in enumerate(levels):
        cp.clear_hints()
        for variable, value in zip(variables, values, strict=False):
            cp.add_hint(variable, value)
        cp.minimize(sum_)
        left = len(levels) - at
        found = ask(cp, clock, seconds=max(clock.left_s / left, clock.left_s - left))
        if found.found:
            values = [found.solver.value(each) for each in variables]
            worth = round(found.solver.objective_value)
            measures.append(Measure(name, worth, max(0.0, found.bound), found.proven))
        elif not values:
            return (), []
        else:
            worth = _worth(cp, sum_, variables, values)
            measures.append(Measure(name, worth, 0.0, proven=worth == 0))
        cp.add(sum_ <= worth)
    return tuple(measures), values


def _worth(cp: Any, sum_: Any, variables: Sequence[Any], values: Sequence[int]) -> int:
    """What a sum comes to in a solution that is known; its other variables as small as they can be."""
    from ortools.sat.python import cp_model

    fixed = cp.clone()
    for variable, value in zip(variables, values, strict=True):
        fixed.add(fixed.get_int_var_from_proto_index(variable.index) == value)
    fixed.minimize(sum_)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.solve(fixed)
    return round(solver.objective_value)
