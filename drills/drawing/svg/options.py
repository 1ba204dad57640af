"""How a plan is to be drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from drills.drawing.lanes import Lane
from drills.game.sentences.rendering import Translate, as_written, text_of
from drills.game.sentences.sentence import Part, Sentence

YARD_M = 0.9144  # international yard, exact
Hatched = Literal["no", "in print", "always"]


@dataclass(frozen=True, kw_only=True)
class Options:
    """`prefix` keeps ids unique on a page; `turn` is clockwise in degrees; `pace_m` turns figures into paces.

    `hatched="in print"` adds hidden hatches that a page's print rules show; `"always"` draws without colours.
    `moving` adds the timed animation of all steps; `moments` are the lanes at the start of each step, hidden until a
    page shows them. `translate` is given every English word of the picture. Raises ValueError for impossible figures.
    """

    prefix: str = ""
    thumbnail: bool = False
    legend: bool = True
    measures: bool = True
    hatched: Hatched = "in print"
    turn: Literal[0, 90, 180, 270] = 0
    units: Literal["m", "yd", "paces"] = "m"
    pace_m: float = 0.75
    lanes: tuple[Lane, ...] = ()
    moving: bool = False
    moments: tuple[tuple[Lane, ...], ...] = ()
    translate: Translate = as_written

    def __post_init__(self) -> None:
        if self.turn not in (0, 90, 180, 270):
            raise ValueError("turn: must be 0, 90, 180 or 270")
        if not self.pace_m > 0:
            raise ValueError("pace_m: must be above 0")

    def length(self, metres: float) -> str:
        """A length in the reader's units, never in two."""
        if self.units == "yd":
            return self.say("length_yd", n=metres / YARD_M)
        if self.units == "paces":
            return self.say("length_paces", n=round(metres / self.pace_m))
        return self.say("length_m", n=metres)

    def say(self, key: str, **parts: Part) -> str:
        """A wording of the catalogue in the reader's language."""
        return text_of(Sentence(key, parts), self.translate)
