"""Teams, turns and the headline of a drill as it is run tonight."""

import json
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drills.game.fit import SetUp
from drills.pages import GridLine, Told, grids_told, told
from sessions.planning.teams import GridTeams
from sessions.queries.plan import StationView


@dataclass(frozen=True)
class TurnShown:
    """Who is where in one bout, by bib."""

    number: int
    inside: str
    outside: str
    resting: str


@dataclass(frozen=True)
class Tonight:
    """A drill as it is run, in words: who is on which grid, every rule, and with a set-up its headline and turns."""

    headline: str = ""
    rotation: str = ""
    grids: tuple[GridLine, ...] = ()
    turns: tuple[TurnShown, ...] = ()
    told: Told | None = None

    @property
    def turns_data(self) -> str:
        """The turns as the phone's clock reads them."""
        return json.dumps(self.turns_rows)

    @property
    def turns_rows(self) -> list[list[str]]:
        return [[each.inside, each.outside, each.resting] for each in self.turns]


def tonight_of(station: StationView | None) -> Tonight:
    """A station in words; nothing where it has no drill."""
    if station is None or station.tonight is None:
        return Tonight()
    setup = station.setup
    return Tonight(
        headline=headline(setup) if setup else "",
        rotation=setup.rotation if setup else "",
        grids=grids_told(station.tonight),
        turns=_turns(station.teams) if setup else (),
        told=told(station.tonight),
    )


def _turns(grids: tuple[GridTeams, ...]) -> tuple[TurnShown, ...]:
    """Where whole teams go round on one grid alone."""
    if len(grids) != 1 or grids[0].rotation is None:
        return ()
    return tuple(
        TurnShown(each.number, *(", ".join(bibs) for bibs in (each.inside, each.outside, each.resting)))
        for each in grids[0].rotation.bouts
    )


def headline(setup: SetUp) -> str:
    """`5v5+2 on 32 × 24 m`, with who waits."""
    sizes = dict.fromkeys(f"{length:g} × {width:g} m" for length, width in setup.grid_sizes)
    text = _("{numbers} on {size}").format(numbers=setup.numbers, size=", ".join(sizes))
    if setup.waiting:
        waits = ngettext("{n} waits in turn", "{n} wait in turn", setup.waiting)
        text += ", " + waits.format(n=setup.waiting)
    return text
