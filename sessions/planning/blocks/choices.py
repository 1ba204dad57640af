"""What a slot can be given, and what a whole choice of those comes to in points: counted here apart from any solver."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sessions.planning.blocks.asked import (
    AGAIN_FROM_DAYS,
    AGAIN_TO_DAYS,
    HARD_AFTER_MATCH_DAYS,
    HARD_APART_DAYS,
    HARD_BEFORE_MATCH_DAYS,
    RUNNING,
    BlockRequest,
    BlockSlot,
    BlockTarget,
    BlockTeam,
    ReadyChoice,
    TaughtSession,
)


@dataclass(frozen=True, slots=True)
class SlotChoice:
    """A theme for a slot, with a ready session ("": a coach writes one); what it teaches (minutes), needs and costs alone.

    `points` is what it costs whatever else is chosen; `allowed` says whether it is what the director fixed, if anything.
    """

    theme: str
    ready: str
    minutes: Mapping[str, int]
    hard: bool
    thirds: int
    kit: Mapping[str, int]
    points: int
    near_match: bool
    allowed: bool

    def counts(self, target: BlockTarget) -> int:
        """Minutes or sessions of it that count for a target."""
        if target.unit == "minutes":
            return self.minutes.get(target.theme, 0)
        return int(self.theme == target.theme)


@dataclass(frozen=True, slots=True)
class TeamMoment:
    """A session of a team in order of time: a slot with its number among the team's slots, or one that was run."""

    day: int
    slot: int | None = None
    taught: TaughtSession | None = None


@dataclass(frozen=True, slots=True)
class ThemeCount:
    """What a team gets of a target, in the target's unit, and how much is short of it, beyond half short, and over it."""

    team: str
    target: BlockTarget
    got: int
    short: int
    forgotten: int
    over: int


def choices_of(request: BlockRequest, team: BlockTeam, slot: BlockSlot) -> list[SlotChoice]:
    """All that a slot can be given, the fixed first; with what it stands at and what is fixed, whatever the ages say."""
    always_theme = {slot.fixed_theme, *(slot.stands or ())[:1]}
    always_ready = {slot.fixed_ready, *(slot.stands or ())[1:]}
    near = _near_match(team, slot)
    found = [
        _made(request, slot, near, None, theme.key, {theme.key: slot.teaches}, theme.effort_cr10)
        for theme in request.themes
        if theme.ages is None or team.age in theme.ages or theme.key in always_theme
    ]
    themes = {each.key for each in request.themes}
    found += [
        _made(request, slot, near, each, each.theme, each.minutes, each.effort_cr10)
        for each in request.ready
        if each.theme in themes
        and ((team.age in each.ages and each.length <= slot.length) or each.key in always_ready)
    ]
    return sorted(found, key=lambda each: not each.allowed)


def _made(
    request: BlockRequest,
    slot: BlockSlot,
    near: bool,
    ready: ReadyChoice | None,
    theme: str,
    minutes: Mapping[str, int],
    effort: float,
) -> SlotChoice:
    hard = effort >= request.hard_cr10
    key = ready.key if ready else ""
    weights = request.weights
    changed = request.fewest_changes and slot.stands is not None and slot.stands != (theme, key)
    points = weights.change * changed + weights.unready * (ready is None)
    if hard and near:
        points += weights.near_match
    return SlotChoice(
        theme=theme,
        ready=key,
        minutes=minutes,
        hard=hard,
        thirds=slot.thirds if ready is None or ready.thirds is None else ready.thirds,
        kit=ready.kit if ready else {},
        points=points,
        near_match=hard and near,
        allowed=slot.fixed_theme in (None, theme) and slot.fixed_ready in (None, key),
    )


def _near_match(team: BlockTeam, slot: BlockSlot) -> bool:
    """Whether a hard evening would come too soon before or after a match; the day of a match itself is both."""
    return any(
        0 <= match - slot.day <= HARD_BEFORE_MATCH_DAYS or 0 < slot.day - match <= HARD_AFTER_MATCH_DAYS
        for match in team.match_days
    )


def moments_of(request: BlockRequest, team: str, slots: Sequence[BlockSlot]) -> list[TeamMoment]:
    """A team's slots and what it was taught, in order of time; on one day what was run comes first."""
    ran = [TeamMoment(each.day, taught=each) for each in request.taught if each.team == team]
    return sorted(
        [*ran, *(TeamMoment(each.day, slot=at) for at, each in enumerate(slots))],
        key=lambda each: (each.day, each.slot is not None, each.slot or 0),
    )


def runs_of_three(moments: Sequence[TeamMoment]) -> Iterator[Sequence[TeamMoment]]:
    """Every so many sessions one after the other, with a slot among them, in which one theme must not be all there is."""
    for at in range(len(moments) - RUNNING + 1):
        running = moments[at : at + RUNNING]
        if any(each.slot is not None for each in running):
            yield running


def close_pairs(moments: Sequence[TeamMoment]) -> Iterator[tuple[TeamMoment, TeamMoment]]:
    """Sessions one after the other with too few days between for both to be hard, one of them a slot at least."""
    for before, after in pairwise(moments):
        is_slot = before.slot is not None or after.slot is not None
        if is_slot and after.day - before.day < HARD_APART_DAYS:
            yield before, after


def a_while_apart(moments: Sequence[TeamMoment], slot: TeamMoment) -> list[TeamMoment]:
    """The sessions from which a theme comes back, or that come back to it: one to two weeks before or after."""
    return [each for each in moments if AGAIN_FROM_DAYS <= abs(each.day - slot.day) <= AGAIN_TO_DAYS]


def done_before(request: BlockRequest, team: str, target: BlockTarget) -> int:
    """What a team was taught of a target in this block already, in the target's unit."""
    ran = [each for each in request.taught if each.team == team and each.day >= 0]
    if target.unit == "minutes":
        return sum(each.minutes.get(target.theme, 0) for each in ran)
    return sum(each.theme == target.theme for each in ran)


def constant_points(request: BlockRequest, target: BlockTarget, got: int) -> int:
    """What it costs in points to have got so much of a target, in the target's unit."""
    count = _count("", target, got)
    short, forgotten, over = request.weights.of(target.unit)
    return short * count.short + forgotten * count.forgotten + over * count.over


def worth_of(request: BlockRequest, team: BlockTeam) -> int:
    """What a team's targets are worth in points: what it would cost to teach nothing of them."""
    return sum(constant_points(request, each, 0) for each in request.targets_of(team))


def _count(team: str, target: BlockTarget, got: int) -> ThemeCount:
    short = max(0, target.amount - got)
    beyond_half = max(0, short - (target.amount + 1) // 2)
    return ThemeCount(team, target, got, short, beyond_half, max(0, got - target.amount))


def counted(request: BlockRequest, team: BlockTeam, chosen: Sequence[SlotChoice]) -> list[ThemeCount]:
    """What a team gets of each target of its age with one choice a slot, what was run in the block among it."""
    return [
        _count(
            team.key,
            target,
            done_before(request, team.key, target) + sum(each.counts(target) for each in chosen),
        )
        for target in request.targets_of(team)
    ]


def points_of(request: BlockRequest, team: BlockTeam, chosen: Sequence[SlotChoice]) -> dict[str, int]:
    """What one choice a slot costs a team, in points by cause; the objective is their sum over all teams."""
    weights, slots = request.weights, request.slots_of(team.key)
    moments = moments_of(request, team.key, slots)
    found: Counter[str] = Counter(alone_in_block=sum(each.points for each in chosen))
    for count in counted(request, team, chosen):
        found["targets"] += constant_points(request, count.target, count.got)
    for moment in moments:
        if moment.slot is None:
            continue
        apart = a_while_apart(moments, moment)
        if apart and all(theme_at(each, chosen) != chosen[moment.slot].theme for each in apart):
            found["comes_back"] += weights.alone
    for before, after in close_pairs(moments):
        if hard_at(before, chosen) and hard_at(after, chosen):
            found["hard_close"] += weights.hard_close
    used = Counter(each.ready for each in chosen if each.ready)
    ran = {each.ready for each in request.taught if each.team == team.key}
    found["same_again"] += weights.same_again * sum(n - (ready not in ran) for ready, n in used.items())
    return {"slots": found.pop("alone_in_block"), **found}


def theme_at(moment: TeamMoment, chosen: Sequence[SlotChoice]) -> str:
    """The theme of a session that was run, or that a slot is given."""
    if moment.taught is not None:
        return moment.taught.theme
    assert moment.slot is not None
    return chosen[moment.slot].theme


def hard_at(moment: TeamMoment, chosen: Sequence[SlotChoice]) -> bool:
    """Whether a session that was run was hard, or what a slot is given is."""
    if moment.taught is not None:
        return moment.taught.hard
    assert moment.slot is not None
    return chosen[moment.slot].hard
