"""The parts of a session as they were run: effort and headers of the variation that was played."""

from collections.abc import Iterable
from dataclasses import replace

from django.db.models import prefetch_related_objects

from drills import queries as drills
from drills.game.document import DrillDocument
from drills.game.variations import played
from sessions.models import Part, Station, TrainingSession
from sessions.planning.fold import DeliveryState, PartState
from sessions.planning.numbers import CR10_HIGHEST
from sessions.planning.plan import PlannedPart, SessionPlan


def plan_as_run(session: TrainingSession, plan: SessionPlan, state: DeliveryState) -> SessionPlan:
    """A session's plan, each part with what was played of it. Its rows are read where they were not read along; one query more where a drill was swapped."""
    rows = {str(each.public_id): each for each in _parts(session)}
    states = {each.key: each for each in state.parts}
    swapped = _swapped(state.parts)
    parts = [_as_run(part, rows[part.key], states.get(part.key), swapped) for part in plan.parts]
    return replace(plan, parts=tuple(parts))


def plan_as_planned(session: TrainingSession, plan: SessionPlan) -> SessionPlan:
    """A session's plan with the headers of the variations that were planned, whatever was played then."""
    rows = {str(each.public_id): each for each in _parts(session)}
    parts = [
        replace(
            part,
            headers_per_player=max(
                (_headers(each, each.planned_key) for each in rows[part.key].stations.all()), default=0
            ),
        )
        for part in plan.parts
    ]
    return replace(plan, parts=tuple(parts))


def _parts(session: TrainingSession) -> list[Part]:
    prefetch_related_objects(
        [session], "parts__stations__revision__drill"
    )  # not again where they were read along
    return list(session.parts.all())


def _swapped(parts: Iterable[PartState]) -> dict[tuple[str, int], DrillDocument]:
    wanted = {(each.swap.drill, each.swap.revision) for each in parts if each.swap}
    return drills.documents_of_revisions(wanted) if wanted else {}


def _as_run(
    part: PlannedPart,
    row: Part,
    state: PartState | None,
    swapped: dict[tuple[str, int], DrillDocument],
) -> PlannedPart:
    swap = state.swap if state else None
    document = swapped.get((swap.drill, swap.revision)) if swap else None
    if swap and document:
        run = played(document, _known(document, swap.rung))
        return replace(
            part, title=document.title, cr10=run.work.effort, headers_per_player=run.headers_planned
        )
    stations = [each for each in row.stations.all() if each.revision is not None]
    first = stations[0] if stations else None
    rung = state.variation if state else None
    headers = [_headers(each, rung if each is first else None) for each in stations]
    cr10 = part.cr10 + (_harder_by(first, rung) if first else 0.0)
    return replace(part, cr10=min(CR10_HIGHEST, max(0.0, cr10)), headers_per_player=max(headers, default=0))


def headers_of(document: DrillDocument, key: str) -> int:
    """Headers of one player that a drill plans in one of its variations."""
    return played(document, _known(document, key)).headers_planned


def _headers(station: Station, rung: str | None) -> int:
    if station.revision is None:
        return 0
    document = drills.station_drill(station.revision).document
    return headers_of(document, station.variation_key if rung is None else rung)


def _harder_by(station: Station, rung: str | None) -> float:
    """CR10 by which the variation that was played is harder than the planned one."""
    if station.revision is None:
        return 0.0
    planned = station.variation_key if station.planned_key is None else station.planned_key
    run = station.variation_key if rung is None else rung
    document = drills.station_drill(station.revision).document
    if run == planned:
        return 0.0
    return (
        played(document, _known(document, run)).work.effort
        - played(document, _known(document, planned)).work.effort
    )


def _known(document: DrillDocument, key: str) -> str:
    """A variation of the drill; the drill as it is written for what it does not have."""
    return key if any(each.key == key for each in document.variations) else ""
