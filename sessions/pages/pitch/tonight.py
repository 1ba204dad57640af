"""Teams, turns and the headline of an accepted set-up."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext


@dataclass(frozen=True)
class TeamShown:
    """A team on the night, by its bib."""

    bib: str
    players: int
    place: str
    grid: int


@dataclass(frozen=True)
class TurnShown:
    """Who is where in one bout, by bib."""

    number: int
    inside: str
    outside: str
    resting: str


@dataclass(frozen=True)
class Tonight:
    """A set-up in words: its headline, teams, who goes where in which bout. Empty where none was accepted."""

    headline: str = ""
    rotation: str = ""
    teams: tuple[TeamShown, ...] = ()
    turns: tuple[TurnShown, ...] = ()

    @property
    def turns_data(self) -> str:
        """The turns as the phone's clock reads them."""
        return json.dumps(self.turns_rows)

    @property
    def turns_rows(self) -> list[list[str]]:
        return [[each.inside, each.outside, each.resting] for each in self.turns]


def tonight_of(setup: Mapping[str, Any]) -> Tonight:
    """A set-up as it is kept, in words."""
    grids = setup["teams"]
    return Tonight(
        headline=headline(setup),
        rotation=setup["rotation"],
        teams=tuple(
            TeamShown(each["bib"], each["players"], each["place"], grid["grid"])
            for grid in grids
            for each in grid["teams"]
        ),
        turns=tuple(_turn(each) for each in (grids[0]["bouts"] if len(grids) == 1 else ())),
    )


def _turn(bout: Mapping[str, Any]) -> TurnShown:
    return TurnShown(bout["number"], *(", ".join(bout[place]) for place in ("inside", "outside", "resting")))


def headline(setup: Mapping[str, Any]) -> str:
    """`5v5+2 on 32 × 24 m`, with who waits."""
    sizes = dict.fromkeys(f"{length:g} × {width:g} m" for length, width in setup["grid_sizes"])
    text = _("{numbers} on {size}").format(numbers=setup["numbers"], size=", ".join(sizes))
    if setup["waiting"]:
        waits = ngettext("{n} waits in turn", "{n} wait in turn", setup["waiting"])
        text += ", " + waits.format(n=setup["waiting"])
    return text
