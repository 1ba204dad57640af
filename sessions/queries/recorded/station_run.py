"""How each station of a session was run: as planned until it has begun, then as the pitch said last."""

from typing import Any

from drills.game.document.content import Work
from drills.game.made.mine import DrillRun
from sessions import bridge
from sessions.models import Part, Station, TrainingSession

LONGEST_MIN = 120  # a drill's own minutes end there, a part's may be more
LONGEST_REST_S = 1200


def run_of(session: TrainingSession, row: Station) -> DrillRun:
    """The variation, set-up and rounds of a station with a drill. No query.

    A step up or down at the pitch is of the part's first station, and leaves the set-up that was accepted before it.
    """
    kept = bridge.setup_kept(row)
    setup, rung = kept.setup if kept else None, row.variation_key
    said = bridge.parts_run(session).get(str(row.part.public_id))
    if said is not None and said.variation is not None and _is_first(row) and said.variation != rung:
        rung, setup = said.variation, None
    return DrillRun(rung, setup, _work(row.part))


def _is_first(row: Station) -> bool:
    return next(iter(row.part.stations.all())).pk == row.pk


def _work(part: Part) -> Work:
    return Work(
        minutes=min(part.minutes, LONGEST_MIN),
        bouts=part.bouts,
        bout_s=part.bout_s,
        rest_s=min(part.rest_s, LONGEST_REST_S),
        effort=float(part.effort),
    )


def run_in(session: TrainingSession, public_id: Any) -> tuple[int, DrillRun] | None:
    """The pinned revision of a station and how it was run; None where there is no such station, or no drill. No query."""
    for part in session.parts.all():
        for row in part.stations.all():
            if str(row.public_id) == str(public_id) and row.revision_id is not None:
                return row.revision_id, run_of(session, row)
    return None
