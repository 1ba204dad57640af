"""Teams and bibs for a set-up, and a plain even rotation of whole teams by bout.

Where the numbers make whole teams (4v4 with four off is three of four) they go round evenly; where they don't, the set-up's own
sentence says who changes with whom, and no table pretends to more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.game.format import Format
from sessions.planning.numbers import whole
from sessions.planning.rotation import rotate_teams
from sessions.planning.rotation.model import TeamRotation


@dataclass(frozen=True, slots=True)
class Team:
    """A team on the night: the bib it wears, how many it has (counts), and on which grid it begins (1, 2 …)."""

    bib: str
    players: int
    grid: int
    place: str  # inside, outside, resting


@dataclass(frozen=True, slots=True)
class GridTeams:
    """One grid's teams with its keepers; `rotation` is None where whole teams can't go round."""

    grid: int
    format: str
    teams: tuple[Team, ...]
    keepers: int
    rotation: TeamRotation | None


def teams_of(
    formats: Sequence[Format], *, bouts: int, bibs: Sequence[str], resting: int = 0
) -> tuple[GridTeams, ...]:
    """The teams of each grid. `bibs` are colours in the order in which they are given out, repeated if too few.

    `resting` is how many players rest in turn; a whole team of them goes round with the others on a single grid.
    Raises ValueError naming the field.
    """
    whole("bouts", bouts, 1)
    whole("resting", resting, 0)
    if not bibs:
        raise ValueError("bibs: at least one colour is needed")
    colours = _Colours(bibs)
    return tuple(
        _grid(number, fmt, bouts, colours, resting if len(formats) == 1 else 0)
        for number, fmt in enumerate(formats, start=1)
    )


class _Colours:
    """Gives out colours in order, each once before any a second time."""

    def __init__(self, bibs: Sequence[str]) -> None:
        self._bibs = tuple(bibs)
        self._given = 0

    def next(self) -> str:
        colour = self._bibs[self._given % len(self._bibs)]
        turn = self._given // len(self._bibs)
        self._given += 1
        return colour if not turn else f"{colour} {turn + 1}"


def colour_of(bib: str) -> str:
    """The colour that a team wears: "red 2" is the second team in red, on another grid."""
    colour, _, turn = bib.rpartition(" ")
    return colour if colour and not turn.strip("0123456789") else bib


def _grid(number: int, fmt: Format, bouts: int, colours: _Colours, resting: int) -> GridTeams:
    sides = [side.outfield for side in fmt.sides]
    teams = [Team(colours.next(), size, number, "inside") for size in sides]
    size = sides[0]
    outside = _whole(fmt.neutrals, size)
    if fmt.neutrals:
        sizes = [size] * outside if outside else [fmt.neutrals]
        teams += [Team(colours.next(), each, number, "outside") for each in sizes]
    rests = _whole(resting, size)
    teams += [Team(colours.next(), size, number, "resting") for _ in range(rests)]
    even = len(set(sides)) == 1 and fmt.has_opponents
    fills = (not fmt.neutrals or outside > 0) and (not resting or rests > 0)
    rotation = None
    if even and fills and len(teams) > len(sides):
        rotation = _in_bibs([team.bib for team in teams], inside=len(sides), outside=outside, bouts=bouts)
    return GridTeams(number, str(fmt), tuple(teams), fmt.keepers, rotation)


def _in_bibs(bibs: Sequence[str], *, inside: int, outside: int, bouts: int) -> TeamRotation:
    """Rotate teams so that the first bout is the one that is drawn: the first bibs inside, then out, then resting."""
    plan = rotate_teams(teams=len(bibs), inside=inside, bouts=bouts, outside=outside)
    first = plan.bouts[0]
    bib = dict(zip(first.inside + first.outside + first.resting, bibs, strict=True))
    renamed = tuple(
        replace(
            bout,
            inside=tuple(bib[name] for name in bout.inside),
            outside=tuple(bib[name] for name in bout.outside),
            resting=tuple(bib[name] for name in bout.resting),
            games=tuple(tuple(bib[name] for name in game) for game in bout.games),
        )
        for bout in plan.bouts
    )
    return replace(plan, bouts=renamed)


def _whole(players: int, size: int) -> int:
    """How many whole teams of a size these players are; 0 when they are none."""
    return players // size if players and size and players % size == 0 else 0
