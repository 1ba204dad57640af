"""The block as a model for the constraint solver: one choice a slot, what each team is short of, what all share."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sessions.planning.blocks.asked import BlockRequest, BlockTarget, BlockTeam
from sessions.planning.blocks.choices import (
    SlotChoice,
    TeamMoment,
    a_while_apart,
    close_pairs,
    constant_points,
    done_before,
    moments_of,
    runs_of_three,
)
from sessions.planning.blocks.shared import SharedLimit

Choices = Mapping[str, Sequence[SlotChoice]]


@dataclass(frozen=True, slots=True, order=True)
class ClashingWish:
    """A wish by what kind it is and what it is about.

    `fixed` (slot) · `nothing` (slot: no theme and no ready session may be had there) · `target` (team, theme, unit) ·
    `running` (team) · `match_days` (team) · `hard_apart` (team) · `ground` (pitch) · `kit` (kind).
    """

    code: str
    of: tuple[str, ...]


class BlockModel:
    """Variables over given choices. All wishes are held; with `named` each only where a literal of its own is true.

    A named model has no costs: which wishes can hold together does not ask what is missed.
    """

    def __init__(self, request: BlockRequest, choices: Choices, *, named: bool = False) -> None:
        from ortools.sat.python import cp_model

        self.request, self.choices = request, choices
        self.cp: Any = cp_model.CpModel()
        self.wishes: dict[ClashingWish, Any] = {}
        self._named = named
        self.x: dict[str, list[Any]] = {}
        self._theme: dict[tuple[str, str], Any] = {}
        self._hard: dict[str, Any] = {}
        self._short: dict[BlockTarget, Any] = {}
        self._over: dict[BlockTarget, Any] = {}
        self._alone_at: dict[int, Any] = {}

    def add_team(self, team: BlockTeam) -> Any:
        """One choice for each of a team's slots, within the limits; answers what it costs, in points."""
        slots = self.request.slots_of(team.key)
        for slot in slots:
            options = self.choices[slot.key]
            self.x[slot.key] = [self.cp.new_bool_var("") for _ in options]
            self.cp.add_exactly_one(self.x[slot.key])
            self._sums(slot.key)
            if slot.fixed_theme or slot.fixed_ready:
                self._keep("fixed", (slot.key,), self._picked(slot.key, lambda each: not each.allowed) <= 0)
        moments = moments_of(self.request, team.key, slots)
        keys = [each.key for each in slots]
        self._not_running(team, moments, keys)
        cost: list[Any] = [
            each.points * literal
            for key in keys
            for each, literal in zip(self.choices[key], self.x[key], strict=True)
            if each.points
        ]
        self._over.clear()
        self._short.clear()
        self._alone_at.clear()
        cost += [self._missed(team, target, keys) for target in self.request.targets_of(team)]
        cost += self._hard_evenings(team, moments, keys)
        if self._named:
            return 0
        cost += [self._alone(moments, each, keys) for each in moments if each.slot is not None]
        cost += self._again(team, keys)
        self._whole_counts(team, moments, keys)
        return sum(cost)

    def share(self, limits: Sequence[SharedLimit], taken: Mapping[str, SlotChoice] | None = None) -> None:
        """Hold what teams share, of the slots that are in the model; `taken` is what other slots have of it.

        Those of which it says nothing are left the least that they can do with.
        """
        for limit in limits:
            inside = [slot for slot in limit.slots if slot in self.x]
            if not inside:
                continue
            outside = sum(
                limit.drawn(taken[slot])
                if taken and slot in taken
                else min(map(limit.drawn, self.choices[slot]))
                for slot in limit.slots
                if slot not in self.x
            )
            drawn = sum(
                limit.drawn(choice) * literal
                for slot in inside
                for choice, literal in zip(self.choices[slot], self.x[slot], strict=True)
                if limit.drawn(choice)
            )
            self._keep(limit.code, (limit.of,), drawn <= limit.amount - outside)

    def picked(self, solver: Any) -> dict[str, SlotChoice]:
        """What the solver chose for each slot."""
        return {
            key: next(each for each, x in zip(self.choices[key], literals, strict=True) if solver.value(x))
            for key, literals in self.x.items()
        }

    def hint(self, chosen: Mapping[str, SlotChoice]) -> None:
        """Let the search begin with this choice."""
        for key, literals in self.x.items():
            for each, literal in zip(self.choices[key], literals, strict=True):
                self.cp.add_hint(literal, each is chosen[key])

    # --- limits ----------------------------------------------------------------------------------------------

    def _keep(self, code: str, of: tuple[str, ...], limit: Any) -> None:
        if isinstance(limit, bool) and limit:
            return
        held = self.cp.add(limit) if not isinstance(limit, bool) else self.cp.add_bool_or([])
        if self._named:
            wish = ClashingWish(code, of)
            if wish not in self.wishes:
                self.wishes[wish] = self.cp.new_bool_var("")
                self.cp.add_hint(self.wishes[wish], True)  # a solution says which others hold too
            held.only_enforce_if(self.wishes[wish])

    def _sums(self, slot: str) -> None:
        """Whether a slot has a theme, and whether it is hard: one variable each, which the other rules speak of."""
        by_theme = defaultdict(list)
        for each, literal in zip(self.choices[slot], self.x[slot], strict=True):
            by_theme[each.theme].append(literal)
        for theme, literals in by_theme.items():
            self._theme[slot, theme] = self._one_of(literals)
        hard = [x for each, x in zip(self.choices[slot], self.x[slot], strict=True) if each.hard]
        self._hard[slot] = self._one_of(hard) if hard else 0

    def _one_of(self, literals: list[Any]) -> Any:
        if len(literals) == 1:
            return literals[0]
        found = self.cp.new_bool_var("")
        self.cp.add(sum(literals) == found)
        return found

    def _picked(self, slot: str, which: Any) -> Any:
        return sum(x for each, x in zip(self.choices[slot], self.x[slot], strict=True) if which(each))

    def _at(self, moment: TeamMoment, theme: str, keys: Sequence[str]) -> Any:
        if moment.taught is not None:
            return int(moment.taught.theme == theme)
        assert moment.slot is not None
        return self._theme.get((keys[moment.slot], theme), 0)

    def _not_running(self, team: BlockTeam, moments: Sequence[TeamMoment], keys: Sequence[str]) -> None:
        for running in runs_of_three(moments):
            for theme in self.request.themes:
                at = [self._at(each, theme.key, keys) for each in running]
                if not any(isinstance(each, int) and each == 0 for each in at):
                    self._keep("running", (team.key,), sum(at) <= len(at) - 1)

    # --- what is missed --------------------------------------------------------------------------------------

    def _missed(self, team: BlockTeam, target: BlockTarget, keys: Sequence[str]) -> Any:
        short_points, forgotten_points, over_points = self.request.weights.of(target.unit)
        done = done_before(self.request, team.key, target)
        drawn = [
            (each.counts(target), literal)
            for key in keys
            for each, literal in zip(self.choices[key], self.x[key], strict=True)
            if each.counts(target)
        ]
        got = done + sum(count * literal for count, literal in drawn)
        if target.must:
            self._keep("target", (team.key, target.theme, target.unit), got >= target.amount)
        if not drawn:
            return constant_points(self.request, target, done)
        if self._named:
            return 0
        # In steps: minutes mostly come in fives, and the search need not find that out.
        step = math.gcd(target.amount - done, *(count for count, _ in drawn))
        short = step * self.cp.new_int_var(0, max(0, target.amount - done) // step, "")
        self.cp.add(short >= target.amount - got)
        self._short[target] = short
        cost = short_points * short
        most = done + sum(max(each.counts(target) for each in self.choices[key]) for key in keys)
        if over_points and most > target.amount:
            over = step * self.cp.new_int_var(0, -((target.amount - most) // step), "")
            self.cp.add(over >= got - target.amount)
            cost += over_points * over
            self._over[target] = over
        half = (target.amount + 1) // 2
        if forgotten_points and target.amount > half:
            forgotten = self.cp.new_int_var(0, target.amount - half, "")
            self.cp.add(forgotten >= short - half)
            cost += forgotten_points * forgotten
        return cost

    def _alone(self, moments: Sequence[TeamMoment], moment: TeamMoment, keys: Sequence[str]) -> Any:
        """1 for a theme that does not come back, summed over themes in one variable: a slot has one theme only."""
        apart = a_while_apart(moments, moment)
        if not apart or not self.request.weights.alone:
            return 0
        assert moment.slot is not None
        alone = self.cp.new_bool_var("")
        for theme in {each.theme for each in self.choices[keys[moment.slot]]}:
            others = [self._at(each, theme, keys) for each in apart]
            self.cp.add(alone >= self._at(moment, theme, keys) - sum(others))
        self._alone_at[moment.slot] = alone
        return self.request.weights.alone * alone

    def _whole_counts(self, team: BlockTeam, moments: Sequence[TeamMoment], keys: Sequence[str]) -> None:
        """How often each theme is taught, one literal for each number: cuts nothing off, but lets the relaxation see that a
        theme is taught wholly or not at all, and never once without being alone.
        """
        ran = {each.taught.theme for each in moments if each.taught is not None}
        once = []
        for theme in sorted({each.theme for key in keys for each in self.choices[key]}):
            at = [self._theme[key, theme] for key in keys if (key, theme) in self._theme]
            counts = [self.cp.new_bool_var("") for _ in range(len(at) + 1)]
            self.cp.add_exactly_one(counts)
            self.cp.add(sum(number * each for number, each in enumerate(counts)) == sum(at))
            if theme not in ran:
                once.append(counts[1])
            for target in self.request.targets_of(team):
                if target.theme == theme:
                    self._by_count(team, target, counts, keys)
        if len(self._alone_at) == len(keys) and once:
            self.cp.add(sum(self._alone_at.values()) >= sum(once))

    def _by_count(
        self, team: BlockTeam, target: BlockTarget, counts: Sequence[Any], keys: Sequence[str]
    ) -> None:
        """What is short or over at the least, if a theme is taught so often."""
        own, beside = [], []
        for key in keys:
            for each, literal in zip(self.choices[key], self.x[key], strict=True):
                if each.theme == target.theme:
                    own.append(each.counts(target))
                elif each.counts(target):
                    beside.append((each.counts(target), literal))
        left = target.amount - done_before(self.request, team.key, target)
        if target in self._short:
            least = [max(0, left - number * max(own)) for number in range(len(counts))]
            self.cp.add(
                self._short[target] + sum(count * x for count, x in beside)
                >= sum(short * each for short, each in zip(least, counts, strict=True))
            )
        if target in self._over:
            least = [max(0, number * min(own) - left) for number in range(len(counts))]
            self.cp.add(self._over[target] >= sum(over * x for over, x in zip(least, counts, strict=True)))

    def _hard_evenings(
        self, team: BlockTeam, moments: Sequence[TeamMoment], keys: Sequence[str]
    ) -> list[Any]:
        if self.request.light_before_matches:
            for key in keys:
                near = self._picked(key, lambda each: each.near_match)
                self._keep("match_days", (team.key,), near <= 0)
        cost = []
        for pair in close_pairs(moments):
            before, after = (
                int(each.taught.hard) if each.taught is not None else self._hard[keys[each.slot or 0]]
                for each in pair
            )
            if self.request.hard_apart:
                self._keep("hard_apart", (team.key,), before + after <= 1)
            both = self.cp.new_bool_var("")
            self.cp.add(both >= before + after - 1)
            cost.append(self.request.weights.hard_close * both)
        return cost

    def _again(self, team: BlockTeam, keys: Sequence[str]) -> list[Any]:
        """Each time more than once that a team has the same ready session, with those that it was taught."""
        literals = defaultdict(list)
        for key in keys:
            for each, literal in zip(self.choices[key], self.x[key], strict=True):
                if each.ready:
                    literals[each.ready].append(literal)
        cost = []
        for ready, those in literals.items():
            ran = sum(each.team == team.key and each.ready == ready for each in self.request.taught)
            if ran:
                cost.append(self.request.weights.same_again * sum(those))
            elif len(those) > 1:
                more = self.cp.new_int_var(0, len(those) - 1, "")
                self.cp.add(more >= sum(those) - 1)
                cost.append(self.request.weights.same_again * more)
        return cost
