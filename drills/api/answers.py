"""Rows and set-ups as the shapes that the endpoints answer with."""

from typing import Any

from django.utils.translation import gettext as _
from rest_framework.reverse import reverse

from club import api_described
from club.problems import errors_of_fields
from drills import pages, queries
from drills.actions import ImportedRow
from drills.api import shapes
from drills.game.document import DrillDocument
from drills.game.evening import Evening
from drills.game.fit import SetUp, terms
from drills.game.fits import Fits
from drills.game.played import Played, dressed
from drills.game.reasons import Reason
from drills.game.steps import in_order, steps
from drills.game.variations import BASE, find


def row(
    drill: Any, wanted: queries.DrillSearch, request: Any, stock: queries.Stock | None = None
) -> shapes.DrillRow:
    """A drill in a list."""
    card = pages.card(drill, wanted, {}, stock)
    grid = pages.first_grid(drill)
    return shapes.DrillRow(
        id=str(drill.public_id),
        url=reverse("api-drill", [drill.public_id], request=request),
        title=drill.title,
        purpose=drill.purpose,
        state=drill.state,
        activity=drill.activity,
        format=drill.format,
        players_least=drill.players_least,
        players_most=drill.players_most,
        under_from=drill.under_from,
        under_to=drill.under_to,
        length_m=grid.length_m,
        width_m=grid.width_m,
        **_area(card.area),
        minutes=drill.minutes,
        effort=float(drill.effort),
        themes=list(drill.theme_keys),
        condition_kinds=list(drill.condition_kinds),
        heading=drill.heading,
        version=drill.version,
        times_run=_times_run(card.times_run),
        runs=shapes.Runs(variation=card.runs_key, text=card.runs, short_of=card.short_of)
        if wanted.asks_for_room
        else None,
    )


def whole(found: queries.FoundDrill, request: Any) -> shapes.DrillShape:
    """A drill with its document."""
    drill = found.drill
    source = drill.adapted_from_revision
    lineage = shapes.Lineage(drill=str(source.drill.public_id), revision=source.number) if source else None
    return shapes.DrillShape(
        id=str(drill.public_id),
        url=reverse("api-drill", [drill.public_id], request=request),
        title=drill.title,
        state=drill.state,
        version=drill.version,
        revision=drill.current_revision.number if drill.current_revision else 0,
        owner=drill.owner.name if drill.owner else "",
        retired=drill.retired_at is not None,
        adapted_from=lineage,
        times_run=_times_run(queries.times_run(drill)),
        felt=list(queries.felt(drill)),
        grids=[
            _grid(pages.size_shown(found.document, found.document, each)) for each in found.document.grids
        ],
        rungs=rungs_of(found.document),
        document=found.document,
    )


def _times_run(run: queries.RunCounts) -> shapes.TimesRun:
    return api_described.shaped(shapes.TimesRun, run)


def rungs_of(document: DrillDocument) -> list[shapes.RungSteps]:
    """Every rung with the ways on from it."""
    keys = in_order(document)
    return [
        _rung(document, key) for key in dict.fromkeys([*keys, *(each.key for each in document.variations)])
    ]


def _rung(document: DrillDocument, key: str) -> shapes.RungSteps:
    variation, found = find(document, key), steps(document, key)
    return shapes.RungSteps(
        key=key,
        title=variation.title if variation else document.title,
        rung=variation.rung.value if variation else BASE,
        easier=found.easier,
        harder=found.harder,
        back=found.back,
    )


def _grid(shown: pages.SizeShown) -> shapes.GridSize:
    return shapes.GridSize(
        key=shown.key, size=shown.size, purpose=shown.purpose, text=shown.words, **_area(shown.area)
    )


def _area(area: pages.Area | None) -> dict[str, Any]:
    """Two fields of every answer that has an area: how much, and per which players."""
    return {
        "area_per_player_m2": None if area is None else round(area.m2, 2),
        "area_counts": "" if area is None else area.counted,
    }


def fitted(
    answer: Fits, document: DrillDocument, rung: str, evening: Evening, drawing: str
) -> shapes.FitResults:
    """All set-ups; `drawing` is the address of the drill's drawing with everything but the place of the answer."""
    first = {id(each) for each in answer.first}
    return shapes.FitResults(
        count=len(answer),
        results=[
            _fit(each, dressed(document, rung, each, evening), id(each) in first, f"{drawing}&fit={place}")
            for place, each in enumerate(answer)
        ],
        reasons=[reason(each) for each in answer.refusals],
        distance_terms=[
            shapes.FitTerm(name=each.name, weight=each.weight, counts=each.counts) for each in terms()
        ],
        assumed=pages.assumed(evening),
    )


def _fit(setup: SetUp, tonight: Played, first: bool, drawing: str) -> shapes.FitResult:
    return shapes.FitResult(
        format=str(setup.format),
        grids=setup.grids,
        grid_formats=[str(each) for each in setup.grid_formats],
        waiting=setup.waiting,
        distance=round(setup.distance, 4),
        length_m=setup.length_m,
        width_m=setup.width_m,
        players_total=setup.players_total,
        **_area(pages.area_of_answer(tonight.written, str(setup.format), setup.area_per_player_m2)),
        keepers=setup.keepers,
        adult_plays=setup.adult_plays,
        kind=setup.kind,
        first=first,
        terms={name: round(value, 4) for name, value in setup.terms.items()},
        reasons=[reason(each) for each in setup.reasons],
        kit=dict(tonight.kit),
        played=[grid_played(each) for each in pages.grids_told(tonight)],
        rotation=setup.rotation_said(_),
        drawing=drawing,
    )


def grid_played(grid: pages.GridLine) -> shapes.GridPlayed:
    return shapes.GridPlayed(
        grid=grid.number,
        text=grid.words,
        groups=[
            shapes.GroupPlayed(name=each.name, bib=each.bib, count=each.count, where=each.where)
            for each in grid.groups
        ],
    )


def reason(given: Reason) -> shapes.FitReason:
    return shapes.FitReason(
        key=given.key,
        text=given.said(_),
        change=given.change_class,
        weight=given.weight,
        params=dict(given.params),
    )


def imported(rows: list[ImportedRow]) -> shapes.ImportResult:
    """The outcome of each row of a file, and the sums."""
    outcomes = [each.outcome for each in rows]
    return shapes.ImportResult(
        created=outcomes.count("created"),
        duplicate=outcomes.count("duplicate"),
        refused=outcomes.count("refused"),
        results=[_imported(each) for each in rows],
    )


def _imported(given: ImportedRow) -> shapes.ImportOutcome:
    fields: dict[str, list[str]] = {}
    for each in given.problems:
        fields.setdefault(each.field, []).append(each.text)
    return shapes.ImportOutcome(
        row=given.row,
        outcome=given.outcome,
        title=given.title,
        id=str(given.public_id) if given.public_id else None,
        errors=[shapes.ProblemShape(**each) for each in errors_of_fields(fields, f"/drills/{given.row}")],
    )


def plain(drill: shapes.DrillShape) -> Any:
    """A drill as plain data; its document is written as it is kept, its schema version first."""
    return {**api_described.plain(drill), "document": queries.plain_of(drill.document)}
