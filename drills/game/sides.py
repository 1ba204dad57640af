"""One side of a game: who of it is inside, outside and in goal; and what numbers a coach may write at all."""

from dataclasses import dataclass

from drills.game.sentences.sentence import SaidError

MOST_PLAYERS = 60
MOST_SIDES = 4


class UnclearFormat(SaidError):
    """The text cannot be read as a format; its sentence says what is unclear, in a coach's words."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side (a bib colour): outfield players inside, its own players outside, and its keepers (counts)."""

    inside: int
    outside: int = 0
    keeper: int = 0

    def __post_init__(self) -> None:
        for name in ("inside", "outside", "keeper"):
            if getattr(self, name) < 0:
                raise ValueError(f"{name}: cannot be less than 0")

    @property
    def outfield(self) -> int:
        """Everyone of this side but its keepers."""
        return self.inside + self.outside

    @property
    def players(self) -> int:
        return self.inside + self.outside + self.keeper
