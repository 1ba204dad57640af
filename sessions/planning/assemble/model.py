"""The choice as a model for the constraint solver: one option a part, limits on sums, cones that stay, the curve."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from sessions.planning.assemble.options import ALONE, POINT, Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import curve_points

MOST_EFFORT = 100  # tenths of CR10


class Model:
    """Variables over given options; `sums` are the left-hand sides of the limits on sums."""

    def __init__(self, request: Request, parts: Sequence[Sequence[Option]]) -> None:
        from ortools.sat.python import cp_model

        self.request = request
        self.parts = parts
        self.cp: Any = cp_model.CpModel()
        self.chosen: list[list[Any]] = [[self.cp.new_bool_var("") for _ in options] for options in parts]
        self._stay: list[dict[int, Any]] = [self._stays(index) for index in range(len(parts))]
        changing = sum(
            request.changeover_minutes - self._saved_minutes(index) for index in range(1, len(parts))
        )
        self.sums: dict[str, Any] = {
            "minutes": self._sum("minutes") + changing + request.clear_minutes,
            "load": self._sum("load") + request.changeover_load_tenths * changing,
            "headers": self._sum("headers"),
            "set_up": self._sum("set_up") - self._set_up_saved(),
            "in_play_all": self._sum("in_play_all"),
        }

    def pick_one_each(self) -> None:
        """Exactly one option for every part."""
        for chosen in self.chosen:
            self.cp.add_exactly_one(chosen)

    def hold(self, *names: str) -> None:
        """Keep these limits on sums (and "once")."""
        for name in names:
            for each in self._once() if name == "once" else [self.sums[name] <= self.limit(name)]:
                self.cp.add(each)

    def picked(self, solver: Any) -> list[Option]:
        """The options that the solver chose, in the order of the parts."""
        return [
            next(o for o, literal in zip(options, chosen, strict=True) if solver.boolean_value(literal))
            for options, chosen in zip(self.parts, self.chosen, strict=True)
        ]

    def limit(self, name: str) -> int:
        """The right-hand side of a limit on sums, in whole numbers.

        Minutes, tenths of an AU (load), headers of one player, minutes before the start (set_up), and 0 for in_play_all.
        """
        request = self.request
        limits = {
            "minutes": request.minutes,
            "load": request.most_load_tenths,
            "headers": request.headers,
            "set_up": request.set_up_minutes,
            "in_play_all": 0,
        }
        found = limits[name]
        assert found is not None, name
        return found

    def _once(self) -> list[Any]:
        of_drill: dict[int, dict[int, list[Any]]] = defaultdict(lambda: defaultdict(list))
        for index, options in enumerate(self.parts):
            for option, literal in zip(options, self.chosen[index], strict=True):
                of_drill[option.drill][index].append(literal)
        return [
            sum(literal for literals in by_part.values() for literal in literals) <= 1
            for by_part in of_drill.values()
            if len(by_part) > 1
        ]

    def score(self) -> Any:
        """What is to be made as large as it can be, in thousandths of a point."""
        moves = len(self.parts) - 1 - sum(sum(stay.values()) for stay in self._stay[1:])
        return (
            self._sum("score")
            - self._too_often()
            - round(POINT * self.request.weights.moves) * moves
            - curve_points(self.request) * self._off_curve()
        )

    def differ(self, choice: Sequence[Option], free: Sequence[int], least: int) -> None:
        """At least so many of the free parts play a drill that this choice does not use at all."""
        used = {option.drill for option in choice}
        self.cp.add(
            sum(
                literal
                for index in free
                for option, literal in zip(self.parts[index], self.chosen[index], strict=True)
                if option.drill not in used
            )
            >= least
        )

    def _sum(self, name: str) -> Any:
        return sum(
            getattr(option, name) * literal
            for options, chosen in zip(self.parts, self.chosen, strict=True)
            for option, literal in zip(options, chosen, strict=True)
            if getattr(option, name)
        )

    def _stays(self, index: int) -> dict[int, Any]:
        """By cones, a literal that they stay from the part before: it can only be true where both parts use them."""
        if index == 0:
            return {}
        before, now = self._by_cones(index - 1), self._by_cones(index)
        made = {}
        for cones in sorted(before.keys() & now.keys()):
            made[cones] = self.cp.new_bool_var("")
            for literals in (before[cones], now[cones]):
                self.cp.add(made[cones] <= sum(literals))
        return made

    def _by_cones(self, index: int) -> dict[int, list[Any]]:
        found: dict[int, list[Any]] = defaultdict(list)
        for option, literal in zip(self.parts[index], self.chosen[index], strict=True):
            if option.cones != ALONE:
                found[option.cones].append(literal)
        return found

    def _saved_minutes(self, index: int) -> Any:
        saved = self.request.changeover_minutes - self.request.same_cones_minutes
        return saved * sum(self._stay[index].values()) if saved else 0

    def _set_up_saved(self) -> Any:
        """Set-up that need not be done because the cones stand: at most that of the option chosen, and of no other."""
        if not self.request.holds("set_up"):
            return 0
        saved = []
        for index, stay in enumerate(self._stay):
            for cones, literal in stay.items():
                pairs = zip(self.parts[index], self.chosen[index], strict=True)
                of_cones = [(o.set_up, x) for o, x in pairs if o.cones == cones]
                most = max(set_up for set_up, _ in of_cones)
                if most:
                    saved.append(self.cp.new_int_var(0, most, ""))
                    self.cp.add(saved[-1] <= most * literal)
                    self.cp.add(saved[-1] <= sum(set_up * x for set_up, x in of_cones))
        return sum(saved)

    def _too_often(self) -> Any:
        """What last week's drills earn in more parts than they may: all of it, less what is earned in those that count."""
        parts = [index for index, options in enumerate(self.parts) if any(option.again for option in options)]
        if len(parts) <= self.request.again:
            return 0
        counted, earned = [], []
        for index in parts:
            most = max(option.again for option in self.parts[index])
            counts, points = self.cp.new_bool_var(""), self.cp.new_int_var(0, most, "")
            pairs = zip(self.parts[index], self.chosen[index], strict=True)
            self.cp.add(points <= sum(option.again * literal for option, literal in pairs if option.again))
            self.cp.add(points <= most * counts)
            counted.append(counts)
            earned.append(points)
        self.cp.add(sum(counted) <= self.request.again)
        return self._sum("again") - sum(earned)

    def _off_curve(self) -> Any:
        """Falls before the peak and rises after it; `past` says for each step whether the peak lies before it."""
        if len(self.parts) < 3 or not self.request.weights.effort:
            return 0
        efforts = [
            sum(option.effort * literal for option, literal in zip(options, chosen, strict=True))
            for options, chosen in zip(self.parts, self.chosen, strict=True)
        ]
        off, past_before = [], 0
        for before, after in pairwise(efforts):
            past, amount = self.cp.new_bool_var(""), self.cp.new_int_var(0, MOST_EFFORT, "")
            self.cp.add(past >= past_before)
            self.cp.add(amount >= before - after - MOST_EFFORT * past)
            self.cp.add(amount >= after - before - MOST_EFFORT * (1 - past))
            off.append(amount)
            past_before = past
        return sum(off)
