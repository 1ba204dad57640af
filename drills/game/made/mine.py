"""A drill written down as it was run: its variation, numbers, grid and rounds of one night become the written form.

Colours stay those that are written: what was worn is the stock's business. Tonight's players who were off are not in it,
and of several grids it is the first: the drill is what is played on one of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import msgspec

from drills.game.document.conditions import Condition, Limit, WhenThen
from drills.game.document.content import Work
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import (
    MoveItem,
    Operation,
    PutGroup,
    RemoveGroup,
    SetFormat,
    SetGrid,
    SetScene,
    Variation,
)
from drills.game.fit.setup import SetUp
from drills.game.format import Format
from drills.game.ladder import doubt
from drills.game.played import Played, as_played
from drills.game.scene import Scene
from drills.game.validate import LONGEST_GRID_M, SMALLEST_GRID_M, WIDEST_GRID_M, errors
from drills.game.variations import played

# What was written for other numbers, or drawn for another grid: it would take a later night back to them.
_OF_OTHER_NIGHTS = (SetFormat, PutGroup, RemoveGroup, SetScene, MoveItem)


@dataclass(frozen=True, slots=True)
class DrillRun:
    """How a drill was run: variation ("" as written), set-up (None: in the written numbers and grid), rounds and effort."""

    rung: str
    setup: SetUp | None
    work: Work


def fits_written(document: DrillDocument, run: DrillRun) -> bool:
    """Whether the set-up is what is written: the same numbers, the same grid, one of them, and nobody off."""
    setup = run.setup
    if setup is None:
        return True
    doc = played(document, run.rung)
    grid, fmt = doc.grids[0], Format.parse(doc.format)
    same_size = {setup.length_m, setup.width_m} == {grid.length_m, grid.width_m}
    return same_size and setup.grid_formats == (fmt,) and not setup.waiting


def rounds_as_written(document: DrillDocument, run: DrillRun) -> bool:
    """Whether rounds and rests are what is written; minutes follow from them."""
    work = played(document, run.rung).work
    return (work.bouts, work.bout_s, work.rest_s) == (run.work.bouts, run.work.bout_s, run.work.rest_s)


def is_otherwise(document: DrillDocument, run: DrillRun) -> bool:
    """Whether anything of it is not as the drill is written."""
    return bool(run.rung) or not (fits_written(document, run) and rounds_as_written(document, run))


def played_so(document: DrillDocument, run: DrillRun) -> Played:
    """The drill as it was run, in its written colours."""
    setup = None if fits_written(document, run) else run.setup
    return as_played(document, run.rung, setup)


def written_down(
    document: DrillDocument, run: DrillRun, *, title: str, size_for: str, scene: Scene | None
) -> DrillDocument:
    """A run as a document of its own. `size_for` says what a new size of grid is for; `scene` is its plan, where one was drawn.

    Variations go along where they still say something: not the one that was run, none for other numbers once these are
    new, other grids in proportion, and none that no longer applies or now leads the other way.
    """
    doc = _without_absent(played_so(document, run).document, document)
    first = doc.grids[0]
    before = document.grids[0]
    if (first.length_m, first.width_m) != (before.length_m, before.width_m):
        first = msgspec.structs.replace(first, purpose=size_for)
    others = tuple(
        each for each in doc.grids[1:] if {each.length_m, each.width_m} != {first.length_m, first.width_m}
    )
    bare = msgspec.structs.replace(
        doc, title=title, work=run.work, grids=(first, *others), variations=(), scene=scene
    )
    return msgspec.structs.replace(bare, variations=tuple(_that_go_along(document, bare, run)))


def _without_absent(doc: DrillDocument, document: DrillDocument) -> DrillDocument:
    """Without the rules of groups that nobody was in that night (no keeper came): they did not hold, and name nobody.

    A goal that such a group defended is defended by whoever has lost the ball.
    """
    there = {each.key for each in doc.groups}
    gone = {each.key for each in played(document, "").groups} - there
    gone |= {each.plays_for.value for each in document.groups} - {each.plays_for.value for each in doc.groups}
    if not gone:
        return doc
    kept = tuple(each for each in doc.conditions if not gone & set(_named(each)))
    lost = {each.key for each in doc.conditions} - {each.key for each in kept}
    start = doc.start and msgspec.structs.replace(
        doc.start, delays=tuple(each for each in doc.start.delays if each.group not in gone)
    )
    return msgspec.structs.replace(
        doc,
        conditions=tuple(each for each in kept if not lost & set(_lifted(each))),
        goals=tuple(
            msgspec.structs.replace(each, defended_by=None) if each.defended_by in gone else each
            for each in doc.goals
        ),
        scoring=tuple(each for each in doc.scoring if each.group not in gone),
        start=start,
        phases=tuple(
            msgspec.structs.replace(
                each, entries=tuple(entry for entry in each.entries if entry.group not in gone)
            )
            for each in doc.phases
        ),
    )


def _named(condition: Condition) -> Iterator[str | None]:
    """The groups that a rule speaks of."""
    match condition:
        case Limit():
            yield from (condition.scope.group, condition.other)
        case WhenThen():
            yield from (condition.scope.group, condition.when.group)
            yield from (each.group for each in condition.then)


def _lifted(condition: Condition) -> Iterator[str | None]:
    """The limits that a rule lifts."""
    if isinstance(condition, WhenThen):
        yield from (each.limit for each in condition.then)


def _that_go_along(document: DrillDocument, bare: DrillDocument, run: DrillRun) -> Iterator[Variation]:
    same = fits_written(document, run) and (bare.format, bare.grids[0]) == (
        document.format,
        document.grids[0],
    )
    wrong = len(errors(bare))
    for each in document.variations:
        if each.key == run.rung or (not same and any(map(_of_another_night, each.changes))):
            continue
        here = each if same else _on_this_grid(each, document, bare)
        alone = msgspec.structs.replace(bare, variations=(here,))
        if len(errors(alone)) == wrong and (doubt(document, each) or not doubt(bare, here)):
            yield here


def _of_another_night(change: Operation) -> bool:
    return isinstance(change, _OF_OTHER_NIGHTS)


def _on_this_grid(variation: Variation, document: DrillDocument, bare: DrillDocument) -> Variation:
    """Another size of grid is as much larger or smaller than the new one as it was, in whole metres."""
    before, now = document.grids[0], bare.grids[0]
    changes = tuple(
        SetGrid(
            length_m=_metres(each.length_m / before.length_m * now.length_m, LONGEST_GRID_M),
            width_m=_metres(each.width_m / before.width_m * now.width_m, WIDEST_GRID_M),
        )
        if isinstance(each, SetGrid)
        else each
        for each in variation.changes
    )
    return msgspec.structs.replace(variation, changes=changes)


def _metres(length_m: float, most: int) -> float:
    return float(min(most, max(SMALLEST_GRID_M, round(length_m))))
