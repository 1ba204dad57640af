"""The plan beside the form of a drill in a minute, drawn of what is typed so far."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from drills.drawing.picture import scene_as_written
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import DrillDocument
from drills.game.format import Format
from drills.pages.library import activity_word, players_words
from drills.pages.sizes import area_of


@dataclass(frozen=True)
class QuickPlan:
    """The plan, and one line of facts under it."""

    svg: SafeString
    words: str


def quick_plan(document: DrillDocument) -> QuickPlan:
    """A document that says no more than a coach does in a minute, drawn."""
    options = DrawingOptions(prefix="quick-", translate=_)
    numbers, fmt = document.numbers, Format.parse(document.format)
    players = players_words(numbers.least or fmt.players, numbers.most or fmt.players)
    said = [activity_word(document.activity.value), _("{n} players").format(n=players)]
    if area := area_of(document):
        said.append(area.words)
    return QuickPlan(mark_safe(render(scene_as_written(document), options=options)), " · ".join(said))
