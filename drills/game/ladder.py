"""Is a harder rung harder on anything that can be measured? A hint, never a verdict: the coach knows the players.

Overload, area per player, touches, passes, seconds and rest are compared with the drill as written. For a theme with
the ball, fewer options and less room are harder; for one without it, the other way round (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Literal

from drills.game.document.choices import Activity, LimitKind, Moment, Rung, ThenKind, WhenKind
from drills.game.document.conditions import Limit, WhenThen
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import (
    AddCondition,
    RemoveCondition,
    ReplaceCondition,
    SetFormat,
    SetGrid,
    SetWork,
    Variation,
)
from drills.game.format import Format, UnclearFormat
from drills.game.sizes import room_of
from drills.game.variations import CannotApply, apply
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Part, Sentence

Way = Literal["harder", "easier"]
_MEASURABLE = (SetGrid, SetFormat, SetWork, AddCondition, ReplaceCondition, RemoveCondition)
WITHOUT_THE_BALL = frozenset({Moment.OUT_OF_POSSESSION, Moment.WINNING_IT})

# Less of it is harder; without the limit there is any amount of it.
_LESS_IS_HARDER = frozenset({LimitKind.TOUCHES, LimitKind.SECONDS_ON_BALL, LimitKind.SECONDS_TO_FINISH})
# There or not: what is asked more of the players once it holds.
_HARDER = frozenset({LimitKind.WEAKER_FOOT, LimitKind.NO_PASS_TO_EACH_OTHER, LimitKind.BALL_HEIGHT})
# All other limits help one side as much as they hinder the other: nobody can tell without knowing whose turn it is.


@dataclass(frozen=True)
class Measured:
    """One thing that can be measured before and after, and which way it moved."""

    measure: Sentence
    before: float
    after: float
    way: Way

    @property
    def what(self) -> str:
        """What is measured, in plain English."""
        return text_of(self.measure)


def measured(base: DrillDocument, changed: DrillDocument) -> list[Measured]:
    """All that differs and can be measured; `inf` stands for a limit that is not there. Units: players, m², s."""
    before, after = dict(_measures(base)), dict(_measures(changed))
    found = []
    for what in dict.fromkeys([*before, *after]):
        _value, absent, sign = before[what] if what in before else after[what]
        old, new = (each[what][0] if what in each else absent for each in (before, after))
        if old != new:
            found.append(Measured(what, old, new, "harder" if (new - old) * sign > 0 else "easier"))
    return found


def doubtful(base: DrillDocument, variation: Variation) -> str | None:
    """The doubt of a rung in plain English; None where there is none."""
    said = doubt(base, variation)
    return text_of(said) if said else None


def doubt(base: DrillDocument, variation: Variation) -> Sentence | None:
    """Why a rung called harder (or easier) may not be; None where it is, or where nobody can tell."""
    if variation.rung is Rung.SIDEWAYS:
        return None
    try:
        changed = apply(base, variation)
    except CannotApply:
        return None
    if _nobody_can_tell(base, changed):
        return None
    wanted: Way = "harder" if variation.rung is Rung.HARDER else "easier"
    found = measured(base, changed)
    if any(each.way == wanted for each in found):
        return None
    other = "easier" if wanted == "harder" else "harder"
    parts: dict[str, Part] = {
        "title": variation.title,
        "wanted": Sentence(f"way_{wanted}"),
        "other": Sentence(f"way_{other}"),
        "moved": tuple(_moved(each) for each in found),
    }
    if not found:
        return Sentence("doubt_no_difference", parts)
    measurable = all(isinstance(each, _MEASURABLE) for each in variation.changes)
    return Sentence("doubt_other_way" if measurable else "doubt_not_so", parts)


def _nobody_can_tell(base: DrillDocument, changed: DrillDocument) -> bool:
    before, after = set(_untold(base)), set(_untold(changed))
    if (
        base.format != changed.format
    ):  # other numbers are measured; that other groups come with them says nothing more
        before, after = ({each for each in several if not _is_who(each)} for several in (before, after))
    return before != after


def _is_who(each: object) -> bool:
    return isinstance(each, tuple) and isinstance(each[0], str)


def _moved(each: Measured) -> Sentence:
    before, after = (Sentence("any") if value == inf else value for value in (each.before, each.after))
    return Sentence("moved_from_to", {"what": each.measure, "before": before, "after": after})


# The value, what it is worth where it is not there at all, and the sign of the direction in which it is harder.
_Value = tuple[float, float, int]
_Measure = tuple[Sentence, _Value]
AREA = Sentence("measure_area")


def _measures(document: DrillDocument) -> Iterator[_Measure]:
    with_the_ball = -1 if document.moment not in WITHOUT_THE_BALL else 1
    yield from _format(document, with_the_ball)
    for phase in document.phases:
        overload = _overload(phase.format)
        if overload is not None:
            yield Sentence("measure_overload_in", {"phase": phase.name}), (overload, overload, with_the_ball)
    for condition in document.conditions:
        if isinstance(condition, Limit):
            yield from _limit(condition)
        elif isinstance(condition, WhenThen):
            yield from _when_then(condition)
    yield Sentence("measure_work"), (document.work.bout_s, 0, 1)
    yield Sentence("measure_rest"), (document.work.rest_s, 0, -1)
    yield Sentence("measure_goals"), (len(document.goals), 0, with_the_ball)
    yield Sentence("measure_gates"), (len(document.gates), 0, with_the_ball)
    yield Sentence("measure_headers"), (document.headers_per_player, 0, 1)


def _format(document: DrillDocument, sign: int) -> Iterator[_Measure]:
    try:
        fmt = Format.parse(document.format)
    except UnclearFormat:
        return
    yield Sentence("measure_opponents"), (int(fmt.has_opponents), 0, 1)
    if fmt.overload is not None:
        yield Sentence("measure_overload"), (fmt.overload, fmt.overload, sign)
    area = _area(document, fmt)
    if area is not None:
        yield AREA, (area, area, sign)


def _area(document: DrillDocument, fmt: Format) -> float | None:
    """m² per player of the first grid; None where it says nothing."""
    if document.activity is Activity.FUN_GAME:
        return None
    room = room_of(document, fmt, document.grids[0].length_m, document.grids[0].width_m)
    return room.m2 if room else None


def _overload(text: str) -> float | None:
    try:
        return Format.parse(text).overload
    except UnclearFormat:
        return None


def _limit(limit: Limit) -> Iterator[_Measure]:
    named = (limit.kind.value, limit.scope.group or "", limit.zone or "")
    what = Sentence("measure_limit", {"words": tuple(each for each in named if each)})
    if limit.kind in _LESS_IS_HARDER and limit.number is not None:
        yield what, (limit.number, inf, -1)
    elif limit.kind in _HARDER:
        yield what, (1, 0, 1)


def _when_then(condition: WhenThen) -> Iterator[_Measure]:
    if condition.when.kind is WhenKind.PASSES and condition.when.number is not None:
        yield Sentence("measure_passes"), (condition.when.number, 0, 1)
    for then in condition.then:
        if then.kind is ThenKind.SECONDS_TO_SCORE and then.number is not None:
            yield Sentence("measure_seconds"), (then.number, inf, -1)


def _untold(document: DrillDocument) -> Iterator[object]:
    """What may be harder or easier, and nobody can tell which without knowing the players: compared as it stands.

    The coach's own words; limits that help whoever plays against them; rules that start something; how many balls; who
    does what while the numbers stay; the size of a grid where an area per player says nothing.
    """
    for each in document.conditions:
        told = isinstance(each, Limit) and each.kind in _LESS_IS_HARDER | _HARDER and not each.word
        if isinstance(each, WhenThen):
            told = any(True for _measure in _when_then(each))
        if not told:
            yield each
    yield document.balls
    yield (
        document.format,
        tuple((group.key, group.role, group.least, group.most) for group in document.groups),
    )
    if not any(what == AREA for what, _value in _format(document, 1)):
        yield document.grids[0].length_m, document.grids[0].width_m
