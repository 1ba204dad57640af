"""One answer of Fit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from drills.game.format import Format
from drills.game.reasons import Reason
from drills.game.wording.rendering import Translate, as_written, spoken, text_of
from drills.game.wording.shapes import Part, Sentence

Kind = Literal["same", "grow", "shrink", "regroup", "split", "wait"]


@dataclass(frozen=True, slots=True)
class SetUp:
    """A way to run the drill tonight: numbers, grids, who waits, what changed and why. Lengths in metres."""

    format: Format  # of the first grid; players only, an adult who plays is counted in adult_plays
    grids: int
    grid_formats: tuple[Format, ...]
    grid_sizes: tuple[tuple[float, float], ...]  # (length, width) of each grid
    waiting: int  # everyone not in a grid at one time, keepers who serve in turn among them
    waiting_beyond: int  # of these, more than the drill plans for
    serving: int  # keepers who serve in turn
    length_m: float  # of the first grid, along its direction of play
    width_m: float
    piece: str  # the key of the piece of ground that the grids lie on
    turned: bool  # the direction of play runs along the free space's width
    columns: int  # grids along the length of the piece of ground
    rows: int
    extent_m: tuple[float, float]  # all grids with their gaps, along the length of the piece and across
    run_off_m: float  # to fences and other groups, the least of both directions
    strip_m: float  # room outside the grid for those who stand there
    area_per_player_m2: float | None  # per counted player of the first grid
    adult_plays: int
    keepers: int  # in goal, over all grids
    distance: float
    terms: Mapping[str, float]
    kind: Kind
    as_designed: bool  # every grid has the design's own numbers
    kit: Mapping[str, int]
    reasons: tuple[Reason, ...]
    turns: Sentence  # how players change places

    @property
    def rotation(self) -> str:
        """How players change places, in plain English; empty where they do not."""
        return self.rotation_said(as_written)

    def rotation_said(self, translate: Translate) -> str:
        """How players change places, in the reader's language."""
        return text_of(self.turns, translate)

    @property
    def changes(self) -> tuple[Reason, ...]:
        """What is other than in the drill as written."""
        return tuple(each for each in self.reasons if each.weight == "change")

    @property
    def cautions(self) -> tuple[Reason, ...]:
        """What whoever runs it has to watch."""
        return tuple(each for each in self.reasons if each.weight == "warning")

    @property
    def players_total(self) -> int:
        """Everyone who came."""
        return sum(fmt.players for fmt in self.grid_formats) + self.waiting

    @property
    def numbers(self) -> str:
        """All grids in the coaches' notation: `5v5+3 and 5v5+2`, `2 × 5v5+2`. It names the answer in addresses and forms."""
        return self.numbers_said(as_written)

    def numbers_said(self, translate: Translate) -> str:
        """All grids in the coaches' notation, in the reader's language."""
        first, *others = [str(fmt) for fmt in self.grid_formats]
        if len(set(self.grid_formats)) == 1:
            alike = Sentence("grids_alike", {"grids": self.grids, "format": first})
            return text_of(alike, translate) if self.grids > 1 else first
        said: Part = first
        for each in others:
            said = Sentence("grids_beside", {"first": said, "last": each})
        return spoken(said, translate)
