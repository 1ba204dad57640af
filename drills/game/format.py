"""The numbers of a game as coaches write them: `5v5+2`, `GK+6v6+GK`, `6v4+GK`, `4(+2)v4(+2)`, `12`.

Reading the notation (common practice, no source):

- `4v4` two sides; up to four sides (`4v4v4`). The side written first has the ball.
- `+4` neutrals, who play for whoever has the ball; outside the grid unless written `+2in`.
- `4(+2)` a side of four inside with two players of its own outside.
- `GK+` in front belongs to the first side; `+GK` at the end to the last one. With two equal sides and only one
  keeper at the end nobody can tell whose keeper it is, so `5v5+GK` is refused; `GK+5v5` and `5v(5+GK)` are clear.
- `12` a group without opponents (a pattern, a fun game); `8+GK`, `2GK` likewise.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from drills.game import notation
from drills.game.notation import MOST_PLAYERS, MOST_SIDES, Side, UnclearFormat
from drills.game.wording.shapes import Sentence

__all__ = ["MOST_PLAYERS", "MOST_SIDES", "Format", "Side", "UnclearFormat"]


@dataclass(frozen=True, slots=True)
class Format:
    """Who plays: sides in the order written (the first has the ball) and neutrals. All values are counts of players.

    Raises ValueError naming the field for a count below 0 or no side; UnclearFormat (a ValueError too) for numbers that are
    no game: more than four sides or 60 players, an empty side, two keepers on one.
    """

    sides: tuple[Side, ...]
    neutrals_inside: int = 0
    neutrals_outside: int = 0

    def __post_init__(self) -> None:
        if not self.sides:
            raise ValueError("sides: a format needs at least one side")
        if len(self.sides) > MOST_SIDES:
            raise UnclearFormat(Sentence("too_many_sides", {"most": MOST_SIDES}))
        if self.neutrals_inside < 0 or self.neutrals_outside < 0:
            raise ValueError("neutrals: cannot be less than 0")
        self._check_sides()
        if self.players > MOST_PLAYERS:
            raise UnclearFormat(Sentence("too_many_players", {"players": self.players, "most": MOST_PLAYERS}))

    def _check_sides(self) -> None:
        if len(self.sides) == 1:
            if self.sides[0].players < 1:
                raise UnclearFormat(Sentence("group_empty"))
            return
        for number, side in enumerate(self.sides, start=1):
            if side.inside < 1:
                raise UnclearFormat(Sentence("side_empty", {"number": number}))
            if side.keeper > 1:
                raise UnclearFormat(Sentence("side_of_keepers", {"number": number, "keepers": side.keeper}))

    # --- reading and writing -------------------------------------------------------------------------------

    @classmethod
    def parse(cls, text: str) -> Format:
        """Read the coaches' notation. Spaces, capitals and "×" are fine. Raises UnclearFormat (a ValueError)."""
        return _parsed(text)

    @classmethod
    def of(cls, *sides: int | Side, neutrals_inside: int = 0, neutrals_outside: int = 0) -> Format:
        """`Format.of(5, 5, neutrals_outside=2)` is `5v5+2`."""
        made = tuple(side if isinstance(side, Side) else Side(side) for side in sides)
        return cls(made, neutrals_inside, neutrals_outside)

    def __str__(self) -> str:
        return notation.write(self)

    # --- who is where --------------------------------------------------------------------------------------

    @property
    def neutrals(self) -> int:
        """Neutrals inside and outside the grid together."""
        return self.neutrals_inside + self.neutrals_outside

    @property
    def keepers(self) -> int:
        """In goal, of all sides together."""
        return sum(side.keeper for side in self.sides)

    @property
    def players(self) -> int:
        """Everyone: sides, neutrals and keepers."""
        return sum(side.players for side in self.sides) + self.neutrals

    @property
    def players_inside(self) -> int:
        """Outfield players and neutrals inside the grid; keepers are not counted, as in published figures."""
        return sum(side.inside for side in self.sides) + self.neutrals_inside

    @property
    def players_outside(self) -> int:
        """Neutrals and the sides' own players who stand outside the grid."""
        return sum(side.outside for side in self.sides) + self.neutrals_outside

    @property
    def has_opponents(self) -> bool:
        """Whether two sides or more play against each other."""
        return len(self.sides) > 1

    @property
    def is_even(self) -> bool:
        """All sides have the same outfield numbers."""
        return len({(side.inside, side.outside) for side in self.sides}) == 1

    # --- what the numbers mean -----------------------------------------------------------------------------

    @property
    def passing_options(self) -> int:
        """Options of the player on the ball: own outfield team-mates and neutrals; 5v5+2 has 6 (common practice).

        The keeper in build-up is not counted: see `keeper_option`, shown beside it as "+1".
        """
        return max(0, self.sides[0].outfield - 1) + self.neutrals

    @property
    def keeper_option(self) -> int:
        """1 when the side on the ball has a keeper to play back to."""
        return min(1, self.sides[0].keeper)

    @property
    def overload(self) -> float | None:
        """(Own outfield + neutrals) ÷ opponents inside the grid: 5v5+2 → 1.4, 2v2 → 1.0. None without opponents.

        Opponents outside the grid are not counted: they cannot win the ball.
        """
        opponents = sum(side.inside for side in self.sides[1:])
        if not opponents:
            return None
        return (self.sides[0].outfield + self.neutrals) / opponents


@lru_cache(maxsize=1024)
def _parsed(text: str) -> Format:
    """A format is a few letters, and asked for again and again."""
    written = notation.read(text)
    return Format(written.sides, written.neutrals_inside, written.neutrals_outside)
