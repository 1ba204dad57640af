"""A session taken along, as it would be there: the list of changes, and the plans."""

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from drills.drawing.picture import laid
from drills.drawing.svg import Options, render
from drills.pages.plan import reason_words
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
    view = session_view(session, k=1.0, judged=False, stock={})
    return changes_of(carry(carried_of(view), target))


def preview(session: Any, target: Target) -> Preview:
    """Look at a session as it would be elsewhere; nothing is written."""
    view = session_view(session, k=1.0, judged=False, stock={})
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
    found = laid(station.drill.document, there.variation_key, setup=there.setup)
    options = Options(
        prefix=f"b{number}-{str(station.row.public_id)[:4]}-", legend=False, hatched="no", translate=_
    )
    return PlanThere(
        number=number,
        title=station.title,
        numbers=there.setup.numbers,
        picture=mark_safe(render(found.scene, options=options)),
        missing=[reason_words(each) for each in found.missing],
    )
