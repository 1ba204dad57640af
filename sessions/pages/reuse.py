"""A session used again, as it would be there: the list of changes, and the plans."""

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from club.actor import Actor
from drills.drawing.picture import laid
from drills.game.played import dressed
from drills.pages.plan import reason_words
from sessions.pages.pitch.rungs import plan_of_grids
from sessions.planning.reasons import PlanningReason
from sessions.planning.refit import Fitted, StationToReuse, Target
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
    """What using a session again would bring: the list of changes, and the plans. `digest` tells one list from another."""

    changes: tuple[PlanningReason, ...]
    plans: list[PlanThere]
    digest: str
    is_harder: bool = False


def what_changes(session: Any, target: Target, *, actor: Actor) -> tuple[PlanningReason, ...]:
    """The list of changes that using a session again would bring."""
    return taken(session, target, actor=actor).changes


def preview(session: Any, target: Target, *, actor: Actor, harder: bool = False) -> Preview:
    """Look at a session as it would be elsewhere, with one part one step `harder`; nothing is written."""
    found = taken(session, target, actor=actor, harder=harder)
    by_key = {each.key: each for each in found.stations}
    plans = [
        _plan_there(number, by_key[each.key], each)
        for number, part in enumerate(found.parts, start=1)
        for each in part.stations
        if each.setup is not None and not each.is_out
    ]
    return Preview(found.changes, plans, found.digest, found.is_harder)


def _plan_there(number: int, station: StationToReuse, there: Fitted) -> PlanThere:
    assert station.document is not None
    assert there.setup is not None
    assert there.evening is not None
    run = dressed(station.document, there.variation_key, there.setup, there.evening)
    prefix = f"b{number}-{station.key[:4]}-"
    found = [laid(run, grid) for grid, _times in run.pictures]
    return PlanThere(
        number=number,
        title=station.title,
        numbers=there.setup.numbers_said(_),
        picture=plan_of_grids(run, [each.scene for each in found], prefix),
        missing=list(dict.fromkeys(reason_words(reason) for each in found for reason in each.missing)),
    )
