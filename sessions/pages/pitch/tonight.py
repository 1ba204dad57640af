"""Teams, turns and the headline of a drill as it is run tonight."""

import json
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.choices import bib_word
from drills.choices import kit_word
from drills.game.fit import SetUp
from drills.game.played import Played, as_played
from drills.pages import GridLine, ToldDrill, grids_told, told
from sessions.pages.laying import things
from sessions.planning.teams import GridTeams, teams_tonight
from sessions.queries.station import StationView


@dataclass(frozen=True)
class TurnShown:
    """Who is where in one bout, by bib."""

    number: int
    inside: str
    outside: str
    resting: str


@dataclass(frozen=True)
class DrillInWords:
    """A drill as it is run, in words: who is on which grid, every rule, and with a set-up its headline and turns."""

    headline: str = ""
    rotation: str = ""
    grids: tuple[GridLine, ...] = ()
    turns: tuple[TurnShown, ...] = ()
    kit: str = ""  # all that is carried for it, once it is set up
    more: str = ""  # what of that the second grid and further ones take
    told: ToldDrill | None = None

    @property
    def turns_data(self) -> str:
        """The turns as the phone's clock reads them."""
        return json.dumps(self.turns_rows)

    @property
    def turns_rows(self) -> list[list[str]]:
        return [[each.inside, each.outside, each.resting] for each in self.turns]


def tonight_of(station: StationView | None) -> DrillInWords:
    """A station in words; nothing where it has no drill."""
    if station is None or station.tonight is None:
        return DrillInWords()
    return in_words(station.tonight, station.row.part.bouts)


def in_words(run: Played, bouts: int) -> DrillInWords:
    """A drill as it is run for so many rounds, in words."""
    setup = run.setup
    return DrillInWords(
        headline=headline(setup) if setup else "",
        rotation=setup.rotation_said(_) if setup else "",
        grids=grids_told(run),
        turns=_turns(teams_tonight(run, bouts)) if setup else (),
        kit=things(run.kit) if setup else "",
        more=more_kit(run),
        told=told(run),
    )


def _turns(grids: tuple[GridTeams, ...]) -> tuple[TurnShown, ...]:
    """Where whole teams go round on one grid alone."""
    if len(grids) != 1 or grids[0].rotation is None:
        return ()
    return tuple(
        TurnShown(
            each.number,
            *(", ".join(map(bib_word, bibs)) for bibs in (each.inside, each.outside, each.resting)),
        )
        for each in grids[0].rotation.bouts
    )


def more_kit(run: Played) -> str:
    """`Second grid: 8 more marker cones, 5 more bibs`: the kit of tonight less that of the one grid as written."""
    grids = len(run.grids)
    if run.setup is None or grids < 2:
        return ""
    written = as_played(run.base, run.rung).kit
    more = {kind: n - written.get(kind, 0) for kind, n in run.kit.items() if n > written.get(kind, 0)}
    if not more:
        return _("Second grid: nothing more to carry.") if grids == 2 else ""
    named = ", ".join(_("{n} more {kind}").format(n=n, kind=kit_word(kind, n)) for kind, n in more.items())
    if grids == 2:
        return _("Second grid: {kit}").format(kit=named)
    return _("{n} more grids: {kit}").format(n=grids - 1, kit=named)


def headline(setup: SetUp) -> str:
    """`5v5+2 on 32 × 24 m`, with who waits."""
    sizes = dict.fromkeys(f"{length:g} × {width:g} m" for length, width in setup.grid_sizes)
    text = _("{numbers} on {size}").format(numbers=setup.numbers_said(_), size=", ".join(sizes))
    if setup.waiting:
        waits = ngettext("{n} off in turn", "{n} off in turn", setup.waiting)
        text += ", " + waits.format(n=setup.waiting)
    return text
