"""Easier, harder and back, as links from the rung that a drill's page shows."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from drills.game.document import DrillDocument
from drills.game.steps import steps
from drills.game.variations import find


@dataclass(frozen=True)
class WayOn:
    """One way on from what the page shows: `way` is easier, harder or back; the key is empty for the drill as written."""

    way: str
    word: str
    key: str
    title: str


def steps_of(base: DrillDocument, key: str) -> list[WayOn]:
    """The next easier and the next harder rung, and back to the drill as written where neither of them is."""
    found = steps(base, key)
    ways = (
        ("easier", _("Easier"), found.easier),
        ("harder", _("Harder"), found.harder),
        ("back", _("Back"), found.straight_back),
    )
    return [WayOn(way, word, to, _title(base, to)) for way, word, to in ways if to is not None]


def _title(base: DrillDocument, key: str) -> str:
    variation = find(base, key)
    return _("the drill as written") if variation is None else variation.title
