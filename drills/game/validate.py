"""What is wrong with a document although each field is well formed: contradictions, and things that are not there.

A check returns problems as data. `error` stops a save; `hint` is shown beside the field and may be overruled.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

from drills.game.document.choices import LimitKind, NumbersKind, ThenKind, WhenKind
from drills.game.document.conditions import FreeText, Limit, Then, WhenThen
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Variation
from drills.game.format import Format, UnclearFormat
from drills.game.ladder import doubtful
from drills.game.variations import CannotApply, apply

LONGEST_GRID_M = 120  # Laws of the Game, Law 1: touchline at most 120 m
WIDEST_GRID_M = 90  # Law 1: goal line at most 90 m
SMALLEST_GRID_M = 2  # nobody plays in less, and nothing can be laid out in it
NEEDS_NUMBER = frozenset(
    {
        LimitKind.TOUCHES,
        LimitKind.SECONDS_ON_BALL,
        LimitKind.MOST_IN_ZONE,
        LimitKind.FEWEST_IN_ZONE,
        LimitKind.SECONDS_TO_FINISH,
    }
)


@dataclass(frozen=True)
class Problem:
    """One thing wrong: where (`field` is a path into the document), what, and whether it stops a save."""

    field: str
    text: str
    severity: Literal["error", "hint"] = "error"


def problems(document: DrillDocument) -> list[Problem]:
    """Everything wrong with the document and with each of its variations."""
    found = [*_base(document)]
    found += _repeated("variations", (each.key for each in document.variations))
    for index, variation in enumerate(document.variations):
        found += _variation(document, variation, f"variations[{index}]")
    return found


def errors(document: DrillDocument) -> list[Problem]:
    """Only what stops a save."""
    return [each for each in problems(document) if each.severity == "error"]


def missing_for_review(document: DrillDocument) -> list[Problem]:
    """What another coach would miss: needed before a drill goes for review."""
    wanted = {
        "say_this": "Say this: up to three sentences that a helper can read out.",
        "restarts": "Say where the ball comes from after it goes out.",
        "points": "At least one coaching point.",
        "questions": "At least one coaching question, with what to listen for.",
    }
    return [Problem(field, text) for field, text in wanted.items() if not getattr(document, field)]


def _base(document: DrillDocument) -> Iterator[Problem]:
    yield from _format(document)
    yield from _numbers(document)
    yield from _grids(document)
    for field in ("groups", "grids", "zones", "gates", "goals", "conditions", "phases", "questions"):
        yield from _repeated(field, (each.key for each in getattr(document, field)))
    yield from _zones(document)
    for index, condition in enumerate(document.conditions):
        yield from _condition(document, condition, f"conditions[{index}]")
    yield from _phases(document)
    for index, group in enumerate(document.groups):
        if group.most is not None and group.most < group.least:
            yield Problem(f"groups[{index}].most", "The most can't be fewer than the least.")


def _variation(document: DrillDocument, variation: Variation, field: str) -> Iterator[Problem]:
    try:
        changed = apply(document, variation)
    except CannotApply as error:
        yield Problem(f"{field}.changes", f"{error}.")
        return
    doubt = doubtful(document, variation)
    if doubt:
        yield Problem(f"{field}.rung", doubt, "hint")
    base = {(each.field, each.text) for each in _base(document)}
    for each in _base(changed):
        if (each.field, each.text) not in base:
            yield Problem(f"{field}.changes", f"In “{variation.title}”: {each.text}", each.severity)


def _said(error: UnclearFormat) -> str:
    """A sentence: the parser's words begin small where they are no format of the coach's."""
    text = f"{error}".rstrip(".")
    return f"{text[:1].upper()}{text[1:]}."


def _parsed(text: str) -> Format | None:
    try:
        return Format.parse(text)
    except UnclearFormat:
        return None


def _format(document: DrillDocument) -> Iterator[Problem]:
    try:
        parsed = Format.parse(document.format)
    except UnclearFormat as error:
        yield Problem("format", _said(error))
        return
    players = [each for each in document.groups if each.plays_for.value != "nobody" and each.role != "adult"]
    if players and document.numbers.kind is NumbersKind.EXACT:
        least = sum(each.least for each in players)
        most = sum(each.least if each.most is None else each.most for each in players)
        if not least <= parsed.players <= most:
            yield Problem(
                "groups",
                f"The groups add up to {least if least == most else f'{least}–{most}'} players, "
                f"the numbers {document.format} to {parsed.players}.",
                "hint",
            )


def _numbers(document: DrillDocument) -> Iterator[Problem]:
    numbers = document.numbers
    if numbers.kind is NumbersKind.RANGE:
        if numbers.least is None or numbers.most is None:
            yield Problem("numbers", "A range needs the fewest and the most players.")
        elif numbers.least > numbers.most:
            yield Problem("numbers", "The fewest can't be more than the most.")
    if document.age_from and document.age_to and document.age_from > document.age_to:
        yield Problem("age_to", "The oldest age can't be below the youngest.")


def _grids(document: DrillDocument) -> Iterator[Problem]:
    for index, grid in enumerate(document.grids):
        if grid.length_m > LONGEST_GRID_M or grid.width_m > WIDEST_GRID_M:
            yield Problem(
                f"grids[{index}]",
                f"{grid.length_m:g} × {grid.width_m:g} m is larger than the largest pitch, "
                f"{LONGEST_GRID_M:g} × {WIDEST_GRID_M:g} m.",
            )
        if min(grid.length_m, grid.width_m) < SMALLEST_GRID_M:
            yield Problem(
                f"grids[{index}]",
                f"{grid.length_m:g} × {grid.width_m:g} m is too small to play in: "
                f"at least {SMALLEST_GRID_M:g} × {SMALLEST_GRID_M:g} m.",
            )


def _zones(document: DrillDocument) -> Iterator[Problem]:
    for index, zone in enumerate(document.zones):
        if zone.left >= zone.right or zone.bottom >= zone.top:
            yield Problem(f"zones[{index}]", f"The zone “{zone.name}” has no area.")


def _repeated(field: str, keys: Iterable[str]) -> Iterator[Problem]:
    for key, count in Counter(keys).items():
        if count > 1:
            yield Problem(field, f"“{key}” is there {count} times; each needs a name of its own.")


def _condition(document: DrillDocument, condition: Any, field: str) -> Iterator[Problem]:
    if isinstance(condition, FreeText):
        yield Problem(field, "A rule in your own words is shown, but nothing is computed from it.", "hint")
    elif isinstance(condition, Limit):
        yield from _limit(document, condition, field)
    elif isinstance(condition, WhenThen):
        yield from _when_then(document, condition, field)


def _limit(document: DrillDocument, limit: Limit, field: str) -> Iterator[Problem]:
    if limit.kind in NEEDS_NUMBER and limit.number is None:
        yield Problem(f"{field}.number", f"“{limit.kind.value}” needs a number.")
    if limit.kind in (LimitKind.TOUCHES, LimitKind.SECONDS_ON_BALL) and limit.number == 0:
        yield Problem(f"{field}.number", f"At most 0 {limit.kind.value}: then nobody can play the ball.")
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
        yield Problem(field, f"At least {least:g} in a zone: the drill has {whole.players} players.")
    for other in document.conditions:
        if not isinstance(other, Limit) or (other.zone, other.scope) != (limit.zone, limit.scope):
            continue
        if other.kind is LimitKind.MOST_IN_ZONE and other.number is not None and other.number < least:
            yield Problem(field, f"At least {least:g} in a zone where at most {other.number:g} may be.")


def _when_then(document: DrillDocument, condition: WhenThen, field: str) -> Iterator[Problem]:
    when = condition.when
    if when.kind in (WhenKind.PASSES, WhenKind.TIME) and when.number is None:
        yield Problem(
            f"{field}.when.number", f"How many {'passes' if when.kind is WhenKind.PASSES else 'seconds'}?"
        )
    yield from _known(document, "groups", when.group, f"{field}.when.group")
    places: set[str] = {*(each.key for each in document.zones), *(each.key for each in document.gates)}
    if when.place and when.place not in places:
        yield Problem(f"{field}.when.place", f"There is no zone or gate “{when.place}” in the drill.")
    for index, then in enumerate(condition.then):
        yield from _then(document, then, f"{field}.then[{index}]")


def _then(document: DrillDocument, then: Then, field: str) -> Iterator[Problem]:
    if then.kind is ThenKind.GOALS_OPEN and not document.goals:
        yield Problem(f"{field}.goals", "Goals are opened, but the drill has no goals.")
    for goal in then.goals:
        yield from _known(document, "goals", goal, f"{field}.goals")
    opened = [each for each in document.goals if not then.goals or each.key in then.goals]
    if then.kind is ThenKind.GOALS_OPEN and opened and all(each.open_at_start for each in opened):
        text = "Goals are opened that are open from the start: say which goal is shut at the start."
        yield Problem(f"{field}.goals", text, "hint")
    if then.kind is ThenKind.PHASE and not then.phase:
        yield Problem(f"{field}.phase", "Which phase starts?")
    yield from _known(document, "phases", then.phase, f"{field}.phase")
    yield from _known(document, "zones", then.zone, f"{field}.zone")
    yield from _known(document, "groups", then.group, f"{field}.group")
    yield from _known(document, "conditions", then.limit, f"{field}.limit")


_ONE_OF = {"zones": "zone", "goals": "goal", "groups": "group", "phases": "phase", "conditions": "condition"}


def _known(document: DrillDocument, collection: str, key: str | None, field: str) -> Iterator[Problem]:
    if key and all(each.key != key for each in getattr(document, collection)):
        yield Problem(field, f"There is no {_ONE_OF[collection]} “{key}” in the drill.")


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
            yield Problem(f"phases[{index}].format", _said(error))
            continue
        most = _most(document, whole)
        if most is not None and parsed.players > most:
            words = f"at most {most}" if document.numbers.kind is NumbersKind.RANGE else f"{most}"
            yield Problem(
                f"phases[{index}].format",
                f"“{phase.name}” needs {parsed.players} players, the drill has {words}.",
            )
        for number, entry in enumerate(phase.entries):
            yield from _known(document, "groups", entry.group, f"phases[{index}].entries[{number}].group")
