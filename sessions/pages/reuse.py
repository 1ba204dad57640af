"""A session taken along, as it would be there: the list of changes, and the plans."""

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from club.actor import Actor
from drills.drawing.picture import laid
from drills.drawing.svg import Options, render
from drills.pages.plan import reason_words
from sessions.planning.reasons import Reason
from sessions.planning.refit import Carried, Fitted, Target
from sessions.queries.reuse import taken


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
    """What taking a session along would bring: the list of changes, and the plans. `digest` tells one list from another."""

    changes: tuple[Reason, ...]
    plans: list[PlanThere]
    digest: str


def what_changes(session: Any, target: Target, *, actor: Actor) -> tuple[Reason, ...]:
    """The list of changes that taking a session along would bring."""
    return taken(session, target, actor=actor).changes


def preview(session: Any, target: Target, *, actor: Actor) -> Preview:
    """Look at a session as it would be elsewhere; nothing is written."""
    found = taken(session, target, actor=actor)
    carried = {each.key: each for each in found.stations}
    plans = [
        _plan_there(number, carried[each.key], each)
        for number, part in enumerate(found.parts, start=1)
        for each in part.stations
        if each.setup is not None and not each.is_out
    ]
    return Preview(found.changes, plans, found.digest)


def _plan_there(number: int, station: Carried, there: Fitted) -> PlanThere:
    assert station.document is not None
    assert there.setup is not None
    found = laid(station.document, there.variation_key, setup=there.setup)
    options = Options(prefix=f"b{number}-{station.key[:4]}-", legend=False, hatched="no", translate=_)
    return PlanThere(
        number=number,
        title=station.title,
        numbers=there.setup.numbers,
        picture=mark_safe(render(found.scene, options=options)),
        missing=[reason_words(each) for each in found.missing],
    )
