"""Teams and bibs for a set-up, and a plain even rotation of whole teams by bout.

Where the numbers make whole teams (4v4 with four off is three of four) they go round evenly; where they don't, the set-up's own
sentence says who changes with whom, and no table pretends to more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.game.bibs import NO_BIB, RESTING, Wear, rests_as_team
from drills.game.format import Format
from drills.game.played import GridTonight, Played
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
    formats: Sequence[Format], *, bouts: int, bibs: Sequence[Sequence[str]], resting: int = 0
) -> tuple[GridTeams, ...]:
    """The teams of each grid. `bibs` are the colours of each grid: its sides in order, its neutrals, a team that rests.

    `resting` is how many players rest in turn; a whole team of them goes round with the others on a single grid.
    Raises ValueError naming the field.
    """
    whole("bouts", bouts, 1)
    whole("resting", resting, 0)
    if len(bibs) != len(formats):
        raise ValueError("bibs: as many as there are grids")
    return tuple(
        _grid(number, fmt, bouts, colours, resting if len(formats) == 1 else 0)
        for number, (fmt, colours) in enumerate(zip(formats, bibs, strict=True), start=1)
    )


def teams_tonight(tonight: Played, bouts: int) -> tuple[GridTeams, ...]:
    """The teams of a drill as it is run, in the bibs that its words speak of; without opponents, those of one bib are one."""
    made = teams_of(
        [each.format for each in tonight.grids],
        bouts=max(1, bouts),
        bibs=[(*each.worn.values(), *_resting(each.wear)) for each in tonight.grids],
        resting=tonight.off,
    )
    return tuple(
        each if grid.format.has_opponents else replace(each, teams=_by_bib(grid))
        for each, grid in zip(made, tonight.grids, strict=True)
    )


def _by_bib(grid: GridTonight) -> tuple[Team, ...]:
    counts: dict[str, int] = {}
    for each in grid.groups:
        if not each.keeps_goal:
            counts[each.bib or NO_BIB] = counts.get(each.bib or NO_BIB, 0) + each.count
    return tuple(Team(bib, players, grid.number, "inside") for bib, players in counts.items())


def _resting(wear: Wear) -> tuple[str, ...]:
    return (wear[RESTING],) if RESTING in wear else ()


def _grid(number: int, fmt: Format, bouts: int, colours: Sequence[str], resting: int) -> GridTeams:
    sides = [side.outfield for side in fmt.sides]
    size = sides[0]
    free = iter(colours)
    try:
        teams = [Team(next(free), players, number, "inside") for players in sides]
        if fmt.neutrals:
            teams.append(Team(next(free), fmt.neutrals, number, "outside"))
        rests = rests_as_team(fmt, resting) and len(colours) > len(teams)
        if rests:
            teams.append(Team(next(free), size, number, "resting"))
    except StopIteration:
        raise ValueError("bibs: a colour is missing") from None
    even = len(set(sides)) == 1 and fmt.has_opponents
    fills = fmt.neutrals in (0, size) and (not resting or rests)
    rotation = None
    if even and fills and len(teams) > len(sides):
        rotation = _in_bibs(
            [team.bib for team in teams], inside=len(sides), outside=int(fmt.neutrals > 0), bouts=bouts
        )
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
