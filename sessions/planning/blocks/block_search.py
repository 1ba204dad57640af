"""The best block: every team alone first, which bounds all of them together; then those that share something.

What teams share couples them loosely, so the sum of what each would cost alone is a bound on all. Where their choices
alone take nowhere more than there is, they are the best together too. Elsewhere the teams that share are solved in turn
with what the others leave, and at last in one model that knows the bound of each team; where that would be too large, two
by two. Searches end by work rather than by the wall's seconds, as far as those suffice, so that answers repeat.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations
from typing import Any

from sessions.planning.blocks.asked import BlockRequest, BlockTeam
from sessions.planning.blocks.block_model import BlockModel, Choices
from sessions.planning.blocks.choices import SlotChoice, points_of, worth_of
from sessions.planning.blocks.shared import SharedLimit, kept
from sessions.planning.blocks.solving import Clock, ask

NEAR_ENOUGH = 0.001  # a share of the points that targets are worth: less than a coach could tell apart
MOST_PASSES = 3  # in which each team of those that share is solved again with what the others leave
# Work by the solver's own count, as a share of the seconds that there are: for one team in such a pass, more each time.
AGAIN_WORK = 0.02
# (that work, share of the seconds of the wall) for all teams alone; a second look where one is not proven by then.
ALONE = (0.02, 0.2), (0.05, 0.3)
# Pairs of those teams that are solved again at last, and the work for each.
MOST_PAIRS, PAIR_WORK = 24, 0.01
FEW_CHOICES = 800  # in which all teams that share are solved together to the end
LEAST_S = 0.5  # of the wall, for one team
TEAMS_AT_ONCE = 2  # each search is one of its own, so the answers repeat

Chosen = Mapping[str, SlotChoice]


@dataclass(frozen=True, slots=True)
class BestBlock:
    """One choice a slot (None where none was found), its points, what no block can be below, and whether none exists."""

    chosen: Chosen | None
    objective: int
    bound: float
    impossible: bool = False


def points_together(request: BlockRequest, teams: Iterable[BlockTeam], chosen: Chosen) -> int:
    """What teams cost in points, counted apart from the solver: that ends a search with sums that may still be too large."""
    return sum(
        sum(points_of(request, team, [chosen[each.key] for each in request.slots_of(team.key)]).values())
        for team in teams
    )


class BlockSearch:
    """One search over given choices within the clock's seconds."""

    def __init__(
        self, request: BlockRequest, choices: Choices, limits: Sequence[SharedLimit], clock: Clock
    ) -> None:
        self.request, self.choices, self.limits, self.clock = request, choices, limits, clock
        self.seconds = clock.seconds
        self.teams = [each for each in request.teams if request.slots_of(each.key)]
        self.alone: dict[str, BestBlock] = {}
        self.worth = sum(worth_of(request, each) for each in request.teams)

    def run(self) -> BestBlock:
        """The best block found; impossible where a team alone or those that share cannot keep the limits."""
        for work, share in ALONE:
            unsure = [each for each in self.teams if not self._is_sure(each)]
            seconds = max(LEAST_S, self.seconds * share * TEAMS_AT_ONCE / max(1, len(unsure)))
            with ThreadPoolExecutor(TEAMS_AT_ONCE) as pool:
                alone = partial(self._alone, work_s=work * self.seconds, seconds=seconds)
                for team, best in zip(unsure, pool.map(alone, unsure), strict=True):
                    self._take_alone(team, best)
                    self.clock.tell(None, self._floor(self.teams))
            if any(each.impossible for each in self.alone.values()):
                return BestBlock(None, 0, math.inf, impossible=True)
        return self._in_all(self._those_that_share(self.teams))

    def _alone(self, team: BlockTeam, work_s: float, seconds: float) -> BestBlock:
        return self._team(team, None, work_s, seconds)

    def _is_sure(self, team: BlockTeam) -> bool:
        """Whether a team alone is solved to the end, or cannot be."""
        best = self.alone.get(team.key)
        return best is not None and (
            best.impossible or (best.chosen is not None and best.bound > best.objective - 0.5)
        )

    def _take_alone(self, team: BlockTeam, best: BestBlock) -> None:
        """Keep the better choice and the higher bound of two looks."""
        before = self.alone.get(team.key)
        if before is not None and not best.impossible:
            bound = max(before.bound, best.bound)
            worse = best.chosen is None or (before.chosen is not None and before.objective <= best.objective)
            best = replace(before if worse else best, bound=bound)
        self.alone[team.key] = best

    def _in_all(self, groups: Sequence[Sequence[BlockTeam]]) -> BestBlock:
        chosen: dict[str, SlotChoice] = {}
        objective, bound, whole = 0, 0.0, True
        for at, group in enumerate(groups):
            best = self._group(group, self.clock.left_s / (len(groups) - at))
            if best.impossible:
                return BestBlock(None, 0, math.inf, impossible=True)
            whole = whole and best.chosen is not None
            chosen.update(best.chosen or {})
            objective, bound = objective + best.objective, bound + best.bound
        return BestBlock(chosen if whole else None, objective, bound)

    def _floor(self, teams: Iterable[BlockTeam]) -> float:
        return sum(max(0.0, self.alone[each.key].bound) for each in teams if each.key in self.alone)

    def _team(
        self, team: BlockTeam, taken: Chosen | None, work_s: float, seconds: float = math.inf
    ) -> BestBlock:
        """One team with what the others leave, or (None) as if it were alone."""
        known = self.alone.get(team.key)
        before = self._own([team], taken or {}) or (known.chosen if known else None)
        return self._few([team], taken, work_s, seconds, before)

    def _few(
        self,
        teams: Sequence[BlockTeam],
        taken: Chosen | None,
        work_s: float,
        seconds: float,
        before: Chosen | None = None,
    ) -> BestBlock:
        """Some teams with what the others leave, or (None) as if there were no others and nothing to share."""
        model = BlockModel(self.request, self.choices)
        cost = self._cost(model, teams)
        if taken is not None:
            model.share(self.limits, taken)
        if before := before or self._own(teams, taken or {}):
            model.hint(before)
        model.cp.minimize(cost)
        found = ask(model.cp, self.clock, work_s=work_s, seconds=seconds, quiet=True)
        if not found.found:
            return BestBlock(None, 0, 0.0, impossible=found.impossible)
        chosen = model.picked(found.solver)
        return BestBlock(chosen, points_together(self.request, teams, chosen), found.bound)

    def _cost(self, model: BlockModel, teams: Sequence[BlockTeam]) -> Any:
        """Teams in a model that knows what each costs at the least; answers what they cost together."""
        cost = []
        for team in teams:
            cost.append(model.add_team(team))
            if team.key in self.alone and (floor := self.alone[team.key].bound) > 0:
                model.cp.add(cost[-1] >= math.ceil(floor - 1e-6))
        return sum(cost)

    def _own(self, teams: Sequence[BlockTeam], taken: Chosen) -> Chosen:
        own = {each.key for team in teams for each in self.request.slots_of(team.key)}
        return {key: choice for key, choice in taken.items() if key in own} if own <= set(taken) else {}

    def _those_that_share(self, teams: Sequence[BlockTeam]) -> list[list[BlockTeam]]:
        """Teams in groups that share nothing with each other that could be too little."""
        of_slot = {each.key: each.team for each in self.request.slots}
        group = {each.key: {each.key} for each in teams}
        for limit in self.limits:
            joined = set().union(*(group[of_slot[slot]] for slot in limit.slots))
            for key in joined:
                group[key] = joined
        seen: dict[int, list[BlockTeam]] = {}
        for each in teams:
            seen.setdefault(id(group[each.key]), []).append(each)
        return list(seen.values())

    def _group(self, teams: Sequence[BlockTeam], seconds: float) -> BestBlock:
        answers = [self.alone[each.key] for each in teams]
        floor = self._floor(teams)
        if all(each.chosen is not None for each in answers):
            chosen = {key: choice for each in answers for key, choice in (each.chosen or {}).items()}
            if kept(self.limits, chosen):
                return BestBlock(chosen, sum(each.objective for each in answers), floor)
        ends = self.clock.left_s - seconds
        first = self._in_turn(teams, floor)
        few = sum(len(self.choices[each.key]) for team in teams for each in self.request.slots_of(team.key))
        if first is not None and self._near(first.objective, floor):
            return first
        if first is not None and few > FEW_CHOICES:
            return self._in_pairs(teams, first, ends)
        return self._together(teams, first, max(0.1, self.clock.left_s - ends))

    def _near(self, objective: float, bound: float) -> bool:
        return objective - bound < max(1.0, NEAR_ENOUGH * self.worth)

    def _in_turn(self, teams: Sequence[BlockTeam], floor: float) -> BestBlock | None:
        """Each team with what those before it leave, then again with what all others leave, while that helps."""
        chosen: dict[str, SlotChoice] = {}
        objective = math.inf
        hardest_first = sorted(teams, key=lambda each: -self.alone[each.key].objective)
        for turn in range(1, MOST_PASSES + 1):
            for team in hardest_first:
                chosen.update(self._better(team, chosen, turn))
            if len(chosen) < sum(len(self.request.slots_of(each.key)) for each in teams):
                return None
            before, objective = objective, points_together(self.request, teams, chosen)
            if objective >= before or self._near(objective, floor):
                break
        return BestBlock(chosen, round(objective), floor)

    def _in_pairs(self, teams: Sequence[BlockTeam], first: BestBlock, ends: float) -> BestBlock:
        """Two teams at once with what all others leave: one gives what the other can use better. Dearest teams first.

        `ends` is what the clock has left when the seconds for this are over.
        """
        assert first.chosen is not None
        chosen, of_slot = dict(first.chosen), {each.key: each.team for each in self.request.slots}
        meet = {frozenset(of_slot[slot] for slot in limit.slots) for limit in self.limits}
        pairs = [
            pair for pair in combinations(teams, 2) if any({each.key for each in pair} <= m for m in meet)
        ]

        def dear(pair: Sequence[BlockTeam]) -> float:
            return points_together(self.request, pair, chosen) - self._floor(pair)

        for pair in sorted(pairs, key=dear, reverse=True)[:MOST_PAIRS]:
            if self.clock.left_s <= ends:
                break
            seconds = self.clock.left_s - ends
            best = self._few(pair, chosen, PAIR_WORK * self.seconds, seconds)
            if best.chosen is not None and best.objective < points_together(self.request, pair, chosen):
                chosen.update(best.chosen)
        return BestBlock(chosen, points_together(self.request, teams, chosen), first.bound)

    def _better(self, team: BlockTeam, chosen: Chosen, turn: int) -> Chosen:
        """What a team can have beside what all have: what is best alone, where that fits; empty for nothing better."""
        alone, own = self.alone[team.key], {each.key for each in self.request.slots_of(team.key)}
        now = points_together(self.request, [team], chosen) if own <= set(chosen) else math.inf
        if alone.chosen is not None:
            if alone.objective >= now:
                return {}
            if self._fits({**chosen, **alone.chosen}):
                return alone.chosen
        best = self._team(team, chosen, turn * AGAIN_WORK * self.seconds)
        return best.chosen if best.chosen is not None and best.objective < now else {}

    def _fits(self, chosen: Chosen) -> bool:
        """Whether a choice leaves all others the least that they can do with."""
        return all(
            sum(
                limit.drawn(chosen[slot]) if slot in chosen else min(map(limit.drawn, self.choices[slot]))
                for slot in limit.slots
            )
            <= limit.amount
            for limit in self.limits
        )

    def _together(self, teams: Sequence[BlockTeam], first: BestBlock | None, seconds: float) -> BestBlock:
        """All teams of a group in one model, that begins with the best so far and knows what each costs at the least."""
        model = BlockModel(self.request, self.choices)
        cost = self._cost(model, teams)
        model.share(self.limits)
        if first is not None and first.chosen is not None:
            model.hint(first.chosen)
        model.cp.minimize(cost)
        found = ask(model.cp, self.clock, seconds=seconds)
        floor = max(self._floor(teams), found.bound)
        if not found.found:
            return first or BestBlock(None, 0, floor, impossible=found.impossible)
        chosen = model.picked(found.solver)
        best = BestBlock(chosen, points_together(self.request, teams, chosen), floor)
        if first is not None and first.objective <= best.objective:
            return BestBlock(first.chosen, first.objective, floor)
        return best
