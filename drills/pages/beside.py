"""The plan beside the form in which a drill is written, drawn of what is typed so far."""

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
class PlanBeside:
    """The plan, and one line of facts under it."""

    svg: SafeString
    words: str


def plan_beside(document: DrillDocument) -> PlanBeside:
    """A document that may say no more yet than numbers and size, drawn as its page will draw it."""
    options = DrawingOptions(prefix="quick-", translate=_)
    numbers, fmt = document.numbers, Format.parse(document.format)
    players = players_words(numbers.least or fmt.players, numbers.most or fmt.players)
    said = [activity_word(document.activity.value), _("{n} players").format(n=players)]
    if area := area_of(document):
        said.append(area.words)
    return PlanBeside(mark_safe(render(scene_as_written(document), options=options)), " · ".join(said))
