"""What is wrong with a document although each field is well formed: contradictions, and things that are not there.

A check returns problems as data. `error` stops a save; `hint` is shown beside the field and may be overruled.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from drills.game.agreement import disagreements
from drills.game.bibs.written import bib_hints
from drills.game.document.choices import LimitKind, NumbersKind, ThenKind, WhenKind
from drills.game.document.conditions import FreeText, Limit, Then, WhenThen
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Variation
from drills.game.format import Format, UnclearFormat
from drills.game.groups import SIDES
from drills.game.ladder import doubt
from drills.game.problem import Problem
from drills.game.variations import CannotApply, apply
from drills.game.wording.rendering import SaidError
from drills.game.wording.shapes import Part, Sentence

LONGEST_GRID_M = 120  # Laws of the Game, Law 1: touchline at most 120 m
WIDEST_GRID_M = 90  # Law 1: goal line at most 90 m
SMALLEST_GRID_M = 2  # nobody plays in less, and nothing can be laid out in it (common practice, no source)
NEEDS_NUMBER = frozenset(
    {
        LimitKind.TOUCHES,
        LimitKind.SECONDS_ON_BALL,
        LimitKind.MOST_IN_ZONE,
        LimitKind.FEWEST_IN_ZONE,
        LimitKind.SECONDS_TO_FINISH,
    }
)


def problems(document: DrillDocument) -> list[Problem]:
    """Everything wrong with the document and with each of its variations."""
    found = [*_base(document)]
    found += _repeated("variations", (each.key for each in document.variations))
    for index, variation in enumerate(document.variations):
        found += _variation(document, variation, f"variations[{index}]")
    return [*found, *bib_hints(document)]


def errors(document: DrillDocument) -> list[Problem]:
    """Those of `problems` that stop a save; hints are left out."""
    return [each for each in problems(document) if each.severity == "error"]


def missing_for_review(document: DrillDocument) -> list[Problem]:
    """What another coach would miss: needed before a drill goes for review."""
    return [
        Problem(field, Sentence(f"missing_{field}"))
        for field in ("say_this", "restarts", "points", "questions")
        if not getattr(document, field)
    ]


def _base(document: DrillDocument) -> Iterator[Problem]:
    yield from _format(document)
    yield from _numbers(document)
    yield from _grids(document)
    for field in ("groups", "grids", "zones", "gates", "goals", "conditions", "phases", "questions"):
        yield from _repeated(field, (each.key for each in getattr(document, field)))
    yield from _zones(document)
    yield from _groups_named(document)
    for index, condition in enumerate(document.conditions):
        yield from _condition(document, condition, f"conditions[{index}]")
    yield from _phases(document)
    for index, group in enumerate(document.groups):
        if group.most is not None and group.most < group.least:
            yield Problem(f"groups[{index}].most", Sentence("most_below_least"))


def _variation(document: DrillDocument, variation: Variation, field: str) -> Iterator[Problem]:
    try:
        changed = apply(document, variation)
    except CannotApply as error:
        yield Problem(f"{field}.changes", _finished(error))
        return
    doubted = doubt(document, variation)
    if doubted:
        yield Problem(f"{field}.rung", doubted, "hint")
    base = {(each.field, each.sentence) for each in _base(document)}
    for each in _base(changed):
        if (each.field, each.sentence) not in base:
            said = Sentence("in_variation", {"title": variation.title, "text": each.sentence})
            yield Problem(f"{field}.changes", said, each.severity)


def _finished(error: SaidError) -> Sentence:
    """A whole sentence: an error's words begin small and have no full stop."""
    return Sentence("finished", {"text": error.sentence})


def _parsed(text: str) -> Format | None:
    try:
        return Format.parse(text)
    except UnclearFormat:
        return None


def _format(document: DrillDocument) -> Iterator[Problem]:
    try:
        parsed = Format.parse(document.format)
    except UnclearFormat as error:
        yield Problem("format", _finished(error))
        return
    yield from disagreements(document, parsed)


def _numbers(document: DrillDocument) -> Iterator[Problem]:
    numbers = document.numbers
    if numbers.kind is NumbersKind.RANGE:
        if numbers.least is None or numbers.most is None:
            yield Problem("numbers", Sentence("range_open"))
        elif numbers.least > numbers.most:
            yield Problem("numbers", Sentence("range_reversed"))
    if document.under_from and document.under_to and document.under_from > document.under_to:
        yield Problem("under_to", Sentence("ages_reversed"))


def _grids(document: DrillDocument) -> Iterator[Problem]:
    for index, grid in enumerate(document.grids):
        size: dict[str, float] = {"length": grid.length_m, "width": grid.width_m}
        if grid.length_m > LONGEST_GRID_M or grid.width_m > WIDEST_GRID_M:
            said = size | {"most_length": LONGEST_GRID_M, "most_width": WIDEST_GRID_M}
            yield Problem(f"grids[{index}]", Sentence("grid_too_large", said))
        if min(grid.length_m, grid.width_m) < SMALLEST_GRID_M:
            yield Problem(f"grids[{index}]", Sentence("grid_too_small", size | {"least": SMALLEST_GRID_M}))


def _zones(document: DrillDocument) -> Iterator[Problem]:
    for index, zone in enumerate(document.zones):
        if zone.left >= zone.right or zone.bottom >= zone.top:
            yield Problem(f"zones[{index}]", Sentence("zone_without_area", {"zone": zone.name}))


def _repeated(field: str, keys: Iterable[str]) -> Iterator[Problem]:
    for key, count in Counter(keys).items():
        if count > 1:
            yield Problem(field, Sentence("key_repeated", {"key": key, "count": count}))


def _condition(document: DrillDocument, condition: Any, field: str) -> Iterator[Problem]:
    if isinstance(condition, FreeText):
        yield Problem(field, Sentence("own_rule"), "hint")
    elif isinstance(condition, Limit):
        yield from _limit(document, condition, field)
    elif isinstance(condition, WhenThen):
        yield from _when_then(document, condition, field)


def _limit(document: DrillDocument, limit: Limit, field: str) -> Iterator[Problem]:
    if limit.kind in NEEDS_NUMBER and limit.number is None:
        yield Problem(f"{field}.number", Sentence("limit_needs_number", {"limit": limit.kind.value}))
    if limit.kind in (LimitKind.TOUCHES, LimitKind.SECONDS_ON_BALL) and limit.number == 0:
        yield Problem(f"{field}.number", Sentence("at_most_none", {"limit": limit.kind.value}))
    if limit.kind is LimitKind.FEWEST_IN_ZONE and limit.number is not None:
        yield from _fewest(document, limit, f"{field}.number")
    yield from _known(document, "zones", limit.zone, f"{field}.zone")
    yield from _known(document, "zones", limit.scope.zone, f"{field}.scope.zone")
    yield from _known(document, "phases", limit.scope.phase, f"{field}.scope.phase")
    yield from _known(document, "groups", limit.scope.group, f"{field}.scope.group")
    yield from _known(document, "groups", limit.other, f"{field}.other")


def _fewest(document: DrillDocument, limit: Limit, field: str) -> Iterator[Problem]:
    """At least so many in a zone: no more than there are, and than may be in it."""
    whole, least = _parsed(document.format), limit.number or 0
    if whole and document.numbers.kind is NumbersKind.EXACT and least > whole.players:
        yield Problem(field, Sentence("fewest_beyond_players", {"least": least, "players": whole.players}))
    for other in document.conditions:
        if not isinstance(other, Limit) or (other.zone, other.scope) != (limit.zone, limit.scope):
            continue
        if other.kind is LimitKind.MOST_IN_ZONE and other.number is not None and other.number < least:
            yield Problem(field, Sentence("fewest_beyond_most", {"least": least, "most": other.number}))


def _when_then(document: DrillDocument, condition: WhenThen, field: str) -> Iterator[Problem]:
    when = condition.when
    if when.kind in (WhenKind.PASSES, WhenKind.TIME) and when.number is None:
        asked = "how_many_passes" if when.kind is WhenKind.PASSES else "how_many_seconds"
        yield Problem(f"{field}.when.number", Sentence(asked))
    yield from _known(document, "groups", when.group, f"{field}.when.group")
    yield from _known(document, "groups", condition.scope.group, f"{field}.scope.group")
    places: set[str] = {*(each.key for each in document.zones), *(each.key for each in document.gates)}
    if when.place and when.place not in places:
        yield Problem(f"{field}.when.place", Sentence("no_such_place", {"key": when.place}))
    for index, then in enumerate(condition.then):
        yield from _then(document, then, f"{field}.then[{index}]")


def _then(document: DrillDocument, then: Then, field: str) -> Iterator[Problem]:
    if then.kind is ThenKind.GOALS_OPEN and not document.goals:
        yield Problem(f"{field}.goals", Sentence("goals_missing"))
    for goal in then.goals:
        yield from _known(document, "goals", goal, f"{field}.goals")
    opened = [each for each in document.goals if not then.goals or each.key in then.goals]
    if then.kind is ThenKind.GOALS_OPEN and opened and all(each.open_at_start for each in opened):
        yield Problem(f"{field}.goals", Sentence("goals_open_already"), "hint")
    if then.kind is ThenKind.PHASE and not then.phase:
        yield Problem(f"{field}.phase", Sentence("which_phase"))
    yield from _known(document, "phases", then.phase, f"{field}.phase")
    yield from _known(document, "zones", then.zone, f"{field}.zone")
    yield from _known(document, "groups", then.group, f"{field}.group")
    yield from _known(document, "conditions", then.limit, f"{field}.limit")


_UNKNOWN = {
    "zones": "no_such_zone",
    "goals": "no_such_goal",
    "groups": "no_such_group",
    "phases": "no_such_phase",
    "conditions": "no_such_condition",
}


def _known(document: DrillDocument, collection: str, key: str | None, field: str) -> Iterator[Problem]:
    if key and all(each.key != key for each in getattr(document, collection)):
        yield Problem(field, Sentence(_UNKNOWN[collection], {"key": key}))


def _groups_named(document: DrillDocument) -> Iterator[Problem]:
    """Groups that goals, points and the start name; conditions and phases are looked at with what else they say."""
    sides = {each.plays_for.value for each in document.groups} & {*SIDES}
    for index, goal in enumerate(document.goals):
        if goal.defended_by not in sides:  # a whole side may defend it, whatever its groups are called
            yield from _known(document, "groups", goal.defended_by, f"goals[{index}].defended_by")
    for index, scoring in enumerate(document.scoring):
        yield from _known(document, "groups", scoring.group, f"scoring[{index}].group")
    for index, entry in enumerate(document.start.delays if document.start else ()):
        yield from _known(document, "groups", entry.group, f"start.delays[{index}].group")


def _most(document: DrillDocument, whole: Format | None) -> int | None:
    """How many play at most; None where anyone can join, or nothing says it."""
    if document.numbers.kind is NumbersKind.RANGE:
        return document.numbers.most
    return whole.players if whole and document.numbers.kind is NumbersKind.EXACT else None


def _phases(document: DrillDocument) -> Iterator[Problem]:
    whole = _parsed(document.format)
    for index, phase in enumerate(document.phases):
        try:
            parsed = Format.parse(phase.format)
        except UnclearFormat as error:
            yield Problem(f"phases[{index}].format", _finished(error))
            continue
        most = _most(document, whole)
        if most is not None and parsed.players > most:
            ranged = document.numbers.kind is NumbersKind.RANGE
            parts: dict[str, Part] = {
                "phase": phase.name,
                "players": parsed.players,
                "most": Sentence("at_most", {"n": most}) if ranged else most,
            }
            yield Problem(f"phases[{index}].format", Sentence("phase_too_many", parts))
        for number, entry in enumerate(phase.entries):
            yield from _known(document, "groups", entry.group, f"phases[{index}].entries[{number}].group")
