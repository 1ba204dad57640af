"""The best choice, and whether it is proven: bounds put almost all options aside, the constraint solver does the rest."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from sessions.planning.assemble.dominated import without_dominated
from sessions.planning.assemble.feasible import SUM_LIMITS, can_be, solver_for
from sessions.planning.assemble.heuristic import first_choice
from sessions.planning.assemble.lagrangian import Priced
from sessions.planning.assemble.model import Model
from sessions.planning.assemble.options import POINT, Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import Choice, kept, totals

FIRST_LOOK = 60  # options a part in the first, small model
SECOND_LOOK = 400  # and in a larger one, where too many are left for the last
TOO_MANY = 3000  # options in which an alternative is no longer looked for at any cost
FIRST_SHARE = (
    0.08  # how far below the first bound the best session is expected to be; if it is not, the search goes on
)
FEW_ROUNDS, MANY_ROUNDS = 30, 50
FEW_OPTIONS = 400  # so few are solved sooner than priced
HALF = 0.5  # scores are whole: the margin covers the rounding in the bounds' arithmetic
ASK_EVERY_S = 0.25
NEAR_ENOUGH = 0.02  # alternatives need not be the very best of their kind


@dataclass(frozen=True, slots=True)
class Progress:
    """What has been found so far, in points: the best score (None before one is), and the bound that none can exceed.

    `choice` has one option a part; they point into the library.
    """

    score: float | None
    bound: float
    choice: Choice = ()


# Called with every better session, and now and then between; answers whether to go on. From any thread.
Watch = Callable[[Progress], bool]


@dataclass(frozen=True, slots=True)
class Differs:
    """At least `least` of the `free` parts play drills that `choice` does not use at all."""

    choice: Choice
    free: tuple[int, ...]
    least: int

    def met_by(self, choice: Choice) -> bool:
        """Whether a choice differs enough."""
        used = {option.drill for option in self.choice}
        return sum(choice[part].drill not in used for part in self.free) >= self.least

    def as_limit(self, parts: Sequence[Sequence[Option]]) -> tuple[list[list[int]], int]:
        """The same as an upper limit on a sum: (values, most).

        By part and option a value is 1 for a free part that plays one of the choice's drills, else 0.
        """
        used = {option.drill for option in self.choice}
        values = [
            [int(at in self.free and o.drill in used) for o in options] for at, options in enumerate(parts)
        ]
        return values, len(self.free) - self.least


@dataclass(frozen=True, slots=True)
class SolvedChoice:
    """`choice` is empty where none was found; `impossible` and `proven` come from the solver's status alone.

    Score and bound are thousandths of a point; `spent_s` is the solver's own clock.
    """

    choice: tuple[Option, ...]
    score: int | None
    bound: float
    proven: bool
    impossible: bool
    spent_s: float


class ChoiceSearch:
    """One search for the best choice among given options, within the solver's seconds."""

    def __init__(
        self,
        request: Request,
        parts: Sequence[Sequence[Option]],
        *,
        seconds: float,
        differs: Sequence[Differs] = (),
        watch: Watch | None = None,
    ) -> None:
        self.request, self.parts, self.differs, self.watch = request, parts, differs, watch
        self.left_s = seconds
        self.choice: Choice = ()
        self.score: int | None = None
        self.bound = float("inf")
        self.stopped = False

    def run(self, seconds: float) -> SolvedChoice:
        """Look among the options with the highest bounds first, then where something better could still be.

        `seconds` are those that the search was made with.
        """
        proven = all(self.parts) and self._best()
        impossible = not all(self.parts) or (proven and self.score is None)
        return SolvedChoice(
            choice=tuple(self.choice),
            score=self.score,
            bound=float(self.score) if proven and self.score is not None else self.bound,
            proven=proven or impossible,
            impossible=impossible,
            spent_s=seconds - self.left_s,
        )

    def _best(self) -> bool:
        """Whether the best was found, or that there is none, and that is proven."""
        if sum(map(len, self.parts)) <= FEW_OPTIONS and not self.differs:
            return self._all_of_few()
        priced = self._priced(self.parts, FEW_ROUNDS)
        worth = priced.bounds()
        self.bound = priced.bound
        floor = priced.bound - FIRST_SHARE * abs(priced.bound)
        # Every session outside the options above the floor scores at most the floor.
        if not self._best_above(floor, worth):
            return False
        if self.score is None and (any_ := self._any()) is not None:
            return any_
        if self.score is not None and self.score >= floor:
            return True
        if self.differs and sum(map(len, self.parts)) > TOO_MANY:
            return False
        return not self.out_of_time and self._best_above(
            -math.inf if self.score is None else self.score, worth
        )

    def _all_of_few(self) -> bool:
        """Solve over all options at once, after a quick look for something to begin with."""
        self._take_first(self.parts, [list(options[:FIRST_LOOK]) for options in self.parts])
        return self._improve(self.parts)

    @property
    def out_of_time(self) -> bool:
        """Stopped by the watcher, or no seconds left."""
        return self.stopped or self.left_s <= 0

    def _best_above(self, floor: float, worth: Sequence[Any]) -> bool:
        """Look among the options whose bound exceeds a floor; whether that was done to the end."""
        avoided = len({option.drill for each in self.differs for option in each.choice})
        parts = without_dominated(_above(floor, self.parts, worth), avoided=avoided)
        if not all(parts):
            return True  # a part without such an option: no session scores more than the floor
        priced = self._priced(parts, MANY_ROUNDS)
        bounds = priced.bounds()
        first = _highest(parts, bounds, FIRST_LOOK)
        if self.score is None:
            self._take_first(parts, first)
        done = self._improve(first)
        if done and self.score is not None and not self.differs:
            # A better one to begin with leaves far fewer to look at in the end.
            left = _above(self.score + HALF, parts, bounds)
            if max(map(len, left)) > SECOND_LOOK:
                first = _highest(parts, bounds, SECOND_LOOK)
                done = self._improve(first)
        if done and not (self.differs and self.score is not None):
            left = parts if self.score is None else _above(self.score + HALF, parts, bounds)
            inside = {id(option) for options in first for option in options}
            if any(id(option) not in inside for options in left for option in options) and all(left):
                done = self._improve(left)
        if not done:
            self.bound = min(self.bound, max(priced.bound, floor))
        return done

    def _take_first(self, parts: Sequence[Sequence[Option]], good: Sequence[Sequence[Option]]) -> None:
        choice = first_choice(
            self.request, parts, good, lambda found: all(each.met_by(found) for each in self.differs)
        )
        if choice:
            self._take(choice)

    def _priced(self, parts: Sequence[Sequence[Option]], rounds: int) -> Priced:
        priced = Priced(self.request, parts, [each.as_limit(parts) for each in self.differs])
        priced.improve(rounds)
        if priced.best_score is not None and all(each.met_by(priced.best) for each in self.differs):
            self._take(priced.best)
        return priced

    def _improve(self, parts: Sequence[Sequence[Option]]) -> bool:
        """Look for something better among these options; whether that was solved to the end."""
        if self.out_of_time:
            return False
        model = self._model(parts)
        model.cp.maximize(model.score())
        if self.score is not None:
            model.cp.add(model.score() >= self.score + 1)
        status = self._solve(model)
        if status in ("OPTIMAL", "FEASIBLE"):
            self._take(model.picked(self.solver))
        return status in ("OPTIMAL", "INFEASIBLE") and not self.stopped

    def _any(self) -> bool | None:
        """Look for any choice among the options that cost least: True when there is proven to be none."""
        if self.differs or self.out_of_time:
            return None  # the fewest costs say nothing about other drills
        answer = can_be(self.request, self.parts, seconds=self.left_s)
        self.left_s -= answer.spent_s
        if answer.yes:
            places = {(o.part, o.offer, o.way, o.minutes): o for options in self.parts for o in options}
            self._take([places[o.part, o.offer, o.way, o.minutes] for o in answer.choice])
        return None if answer.yes or answer.unsure else True

    # --- the solver ------------------------------------------------------------------------------------------

    def _model(self, parts: Sequence[Sequence[Option]]) -> Model:
        model = Model(self.request, parts)
        model.pick_one_each()
        model.hold(*(name for name in SUM_LIMITS if self.request.holds(name)))
        for each in self.differs:
            model.differ(each.choice, each.free, each.least)
        return model

    def _solve(self, model: Model) -> str:
        solver = self.solver = solver_for(self.left_s)
        if self.differs:
            solver.parameters.relative_gap_limit = NEAR_ENOUGH
        if self.watch is None:
            status = solver.solve(model.cp)
        else:
            with _now_and_then(self, solver):
                status = solver.solve(model.cp, _reporter(self, model))
        self.left_s -= solver.wall_time
        return str(solver.status_name(status))

    def _take(self, choice: Choice) -> None:
        """Keep a choice that is better than the one before; it is counted again here, apart from the solver."""
        assert kept(self.request, choice), "the solver's choice goes over a limit"
        score = totals(self.request, choice).score
        if self.score is None or score > self.score:
            self.choice, self.score = choice, score


def _highest(parts: Sequence[Sequence[Option]], bounds: Sequence[Any], most: int) -> list[list[Option]]:
    """The options of each part with the highest bounds."""
    return [
        [options[at] for at in (-each).argsort(kind="stable")[:most]]
        for options, each in zip(parts, bounds, strict=True)
    ]


def _above(floor: float, parts: Sequence[Sequence[Option]], worth: Sequence[Any]) -> list[list[Option]]:
    return [
        [option for option, each in zip(options, bounds, strict=True) if each > floor]
        for options, bounds in zip(parts, worth, strict=True)
    ]


@contextmanager
def _now_and_then(search: ChoiceSearch, solver: Any) -> Iterator[None]:
    """Ask the watcher also while nothing better is found, so that a search can be stopped at any time."""
    over = threading.Event()

    def ask() -> None:
        assert search.watch is not None
        while not over.wait(ASK_EVERY_S) and not search.stopped:
            score = None if search.score is None else search.score / POINT
            if not search.watch(Progress(score, search.bound / POINT, search.choice)):
                search.stopped = True
        while search.stopped and not over.wait(ASK_EVERY_S / 10):
            solver.stop_search()  # again: it has no effect before the solver has begun

    asker = threading.Thread(target=ask, daemon=True)
    asker.start()
    try:
        yield
    finally:
        over.set()
        asker.join()


def _reporter(search: ChoiceSearch, model: Model) -> Any:
    from ortools.sat.python import cp_model

    class Reporter(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            assert search.watch is not None
            if search.stopped:  # the solver had begun nevertheless: nobody is asked twice
                self.stop_search()
                return
            bound = min(search.bound, self.best_objective_bound) / POINT
            found = Progress(self.objective_value / POINT, bound, tuple(model.picked(self)))
            if not search.watch(found):
                search.stopped = True
                self.stop_search()

    return Reporter()


def best(
    request: Request,
    parts: Sequence[Sequence[Option]],
    *,
    seconds: float,
    differs: Sequence[Differs] = (),
    watch: Watch | None = None,
) -> SolvedChoice:
    """The best choice of one option a part that keeps all limits; `seconds` is the solver's time, for all its questions.

    `differs` are earlier choices that it has to differ from; `watch` is told what is found and may end the search.
    """
    return ChoiceSearch(request, parts, seconds=seconds, differs=differs, watch=watch).run(seconds)
