"""A drill's moving plan as a film, and a video of it as its page shows it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.text import slugify
from django.utils.translation import gettext as _

from club.actor import Actor
from drills.drawing.film import Film
from drills.drawing.picture import scene_of
from drills.game.evening import Evening
from drills.game.fits import fits
from drills.game.played import Played, as_played, dressed
from drills.pages.plan import Turn, drawing
from drills.queries import FoundDrill
from drills.queries.videos import is_quiet

if TYPE_CHECKING:
    from drills.models import Video


@dataclass(frozen=True)
class VideoShown:
    """How far a video is. `name` is that of its file; `faster`: how many times as fast as drawn, empty for as drawn."""

    row: Video
    name: str
    faster: str
    is_quiet: bool
    may_stop: bool

    @property
    def is_open(self) -> bool:
        return self.row.is_open


def as_shown(found: FoundDrill, key: str, grid_key: str, evening: Evening | None, place: int) -> Played:
    """The drill as its page shows it: set up by answer `place` of Fit where there is one, else as written.

    Raises KeyError for an unknown rung, grid or answer.
    """
    every = fits(found.document, key, evening) if evening else None
    if not every or evening is None:
        return as_played(found.document, key, grid_key=grid_key)
    if place >= len(every):
        raise KeyError(place)
    return dressed(found.document, key, every[place], evening)


def film_of(tonight: Played, turn: Turn = 0) -> Film | None:
    """The moving plan of the first grid; None where nothing moves."""
    steps = scene_of(tonight).steps
    return Film(drawing(tonight, turn=turn, moving=True), steps[-1].end_s) if steps else None


def video_shown(actor: Actor, found: FoundDrill, row: Video) -> VideoShown:
    """What the page of a video shows. Whoever asked for it may stop it."""
    return VideoShown(
        row=row,
        name=f"{slugify(found.document.title) or _('plan')}.mp4",
        faster=_faster(Film("", row.end_s).speed),
        is_quiet=is_quiet(row),
        may_stop=row.is_open and row.asked_by_id == actor.user_id,
    )


def _faster(speed: float) -> str:
    return f"{speed:.1f}" if speed > 1 else ""
