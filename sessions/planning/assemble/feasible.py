"""Whether any session keeps a request's limits, and how little of one of them would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sessions.planning.assemble.cheapest_options import cheapest_options
from sessions.planning.assemble.heuristic import dive
from sessions.planning.assemble.model import Model
from sessions.planning.assemble.options import Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import Choice

SEED = 1
SUM_LIMITS = ("minutes", "load", "headers", "set_up", "in_play_all", "once")


@dataclass(frozen=True, slots=True)
class Feasibility:
    """Yes with a choice, no, or unsure when the time ended the search. `least` is the sum asked for."""

    choice: Choice = ()
    yes: bool = False
    unsure: bool = False
    least: int | None = None
    spent_s: float = 0.0


def can_be(request: Request, parts: Sequence[Sequence[Option]], *, seconds: float) -> Feasibility:
    """Whether one option a part can keep all limits: a few quick looks first, then the solver for at most so many seconds."""
    front = cheapest_options(request, parts)
    if not all(front) or _too_much(request, front):
        return Feasibility()
    if choice := dive(request, front):
        return Feasibility(choice, yes=True)
    return _ask(_model(request, front), seconds)


def least_sum(
    request: Request, parts: Sequence[Sequence[Option]], name: str, *, seconds: float
) -> Feasibility:
    """The least that a sum (`name`, in the model's whole units: see `Model.limit`) can be with the request's limits kept."""
    model = _model(request, cheapest_options(request, parts))
    model.cp.minimize(model.sums[name])
    return _ask(model, seconds, optimal=True)


def _too_much(request: Request, front: Sequence[Sequence[Option]]) -> bool:
    """Whether even the least of each part's options, on cones that all stay, is over a limit."""
    steps = len(front) - 1
    changing = request.same_cones_minutes * steps
    sums = {
        name: sum(min(getattr(option, name) for option in options) for options in front)
        for name in ("minutes", "load", "headers", "in_play_all")
    }
    limits = {
        "minutes": request.minutes - request.clear_minutes - changing,
        "load": (request.most_load_tenths or 0) - request.changeover_load_tenths * changing,
        "headers": request.headers or 0,
        "in_play_all": 0,
    }
    return any(request.holds(name) and sums[name] > limits[name] for name in sums)


def _model(request: Request, parts: Sequence[Sequence[Option]]) -> Model:
    model = Model(request, parts)
    model.pick_one_each()
    model.hold(*(name for name in SUM_LIMITS if request.holds(name)))
    return model


def solver_for(seconds: float) -> Any:
    """The constraint solver for at most so many seconds, with one worker and one seed, so that its answers repeat."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    # Strong relaxations and little probing: measured ten times as fast as the defaults on these models.
    solver.parameters.linearization_level = 2
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_time_in_seconds = max(1e-3, seconds)
    return solver


def _ask(model: Model, seconds: float, *, optimal: bool = False) -> Feasibility:
    solver = solver_for(seconds)
    status = str(solver.status_name(solver.solve(model.cp)))
    spent_s = float(solver.wall_time)
    if status == "INFEASIBLE":
        return Feasibility(spent_s=spent_s)
    if status != "OPTIMAL" and (optimal or status != "FEASIBLE"):
        return Feasibility(unsure=True, spent_s=spent_s)
    least = round(solver.objective_value) if optimal else None
    return Feasibility(model.picked(solver), yes=True, least=least, spent_s=spent_s)
