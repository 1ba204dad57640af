"""A session taken along, as it would be there: the list of changes, and the plans."""

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString

from drills.drawing.picture import laid
from drills.game.played import dressed
from drills.pages.plan import reason_words
from sessions.pages.pitch.rungs import plan_of_grids
from sessions.planning.reasons import Reason
from sessions.planning.refit import Fitted, Target, carry
from sessions.queries.plan import StationView, session_view
from sessions.queries.reuse import carried_of, changes_of


@dataclass(frozen=True)
class PlanThere:
    """A station as it would be played there: its plan, and what of the drawing by hand has no place on it."""

    number: int
    title: str
    numbers: str
    picture: SafeString
    missing: list[str]


@dataclass(frozen=True)
class Preview:
    """What taking a session along would bring: the list of changes, and the plans."""

    changes: list[Reason]
    plans: list[PlanThere]


def what_changes(session: Any, target: Target) -> list[Reason]:
    """The list of changes that taking a session along would bring."""
    view = session_view(session, k=1.0, judged=False)
    return changes_of(carry(carried_of(view), target))


def preview(session: Any, target: Target) -> Preview:
    """Look at a session as it would be elsewhere; nothing is written."""
    view = session_view(session, k=1.0, judged=False)
    found = carry(carried_of(view), target)
    fitted = {each.key: each for part in found for each in part.stations if each.setup and not each.is_out}
    plans = [
        _plan_there(part.number, station, fitted[str(station.row.public_id)])
        for part in view.parts
        for station in part.stations
        if station.drill and str(station.row.public_id) in fitted
    ]
    return Preview(changes_of(found), plans)


def _plan_there(number: int, station: StationView, there: Fitted) -> PlanThere:
    assert station.drill is not None
    assert there.setup is not None
    assert there.evening is not None
    run = dressed(station.drill.document, there.variation_key, there.setup, there.evening)
    prefix = f"b{number}-{str(station.row.public_id)[:4]}-"
    found = [laid(run, grid) for grid, _times in run.pictures]
    return PlanThere(
        number=number,
        title=station.title,
        numbers=there.setup.numbers,
        picture=plan_of_grids(run, [each.scene for each in found], prefix),
        missing=list(dict.fromkeys(reason_words(reason) for each in found for reason in each.missing)),
    )
