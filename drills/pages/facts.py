"""The figures of a drill: numbers, grid, time and effort, in one line and one by one."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from club.ages import YOUNGEST_BY_LOAD, under_words
from drills.game.document import DrillDocument
from drills.game.format import Format
from drills.pages import words
from drills.pages.library import players_words
from drills.pages.sizes import area_of


@dataclass(frozen=True)
class Fact:
    """A figure; `means` is the anchor of its label on the page of words."""

    label: str
    value: str
    unit: str = ""
    long: bool = False
    means: str = ""


def facts_of(doc: DrillDocument) -> list[Fact]:
    """All figures, one by one, for whoever looks closer."""
    fmt, work = Format.parse(doc.format), doc.work
    area = area_of(doc)
    facts = [Fact(_("Format"), doc.format, means="format"), Fact(_("Players"), _players(doc, fmt))]
    if fmt.overload is not None and len(fmt.sides) == 2:
        facts.append(Fact(_("Options on the ball"), f"{fmt.passing_options}", _option_unit(fmt)))
    facts.append(Fact(_("Grid"), _grid(doc), "m"))
    if area:
        facts.append(Fact(_("Area per player"), area.figure, f"m², {area.counted}", means="area-per-player"))
    return [
        *facts,
        Fact(_("Rounds"), words.work_words(work), long=True, means="round"),
        Fact(_("Minutes"), f"{work.minutes}", "min"),
        Fact(_("Effort, CR10"), f"{work.effort:g}", means="effort"),
        *(
            [Fact(_("Load"), f"{work.effort * work.minutes:.0f}", "AU", means="load")]
            if _by_load(doc)
            else []
        ),
        Fact(_("Adults"), f"{doc.adults}"),
        Fact(_("Set up in"), f"{doc.setup_minutes}", "min"),
        Fact(_("Balls"), words.balls_line(doc.balls), long=bool(doc.balls.supply)),
    ]


def facts_line(doc: DrillDocument, players: int | None = None) -> list[str]:
    """What a coach asks first, in one line: numbers, players (tonight's where they are known), grid, rounds, how hard."""
    fmt = Format.parse(doc.format)
    who = _players(doc, fmt) if players is None else f"{players}"
    anybody = doc.numbers.kind.value == "anyone" and players is None
    return [
        doc.format,
        who if anybody else (_("1 player") if who == "1" else _("{n} players").format(n=who)),
        _("{size} m").format(size=_grid(doc)),
        words.work_words(doc.work),
        _("{n} min").format(n=doc.work.minutes),
        words.effort_words(doc.work.effort),
    ]


def _grid(doc: DrillDocument) -> str:
    grid = doc.grids[0]
    return f"{grid.length_m:g} × {grid.width_m:g}"


def _by_load(doc: DrillDocument) -> bool:
    """Whether anybody that the drill is for has a load in AU."""
    return doc.under_to is None or doc.under_to >= YOUNGEST_BY_LOAD


def _option_unit(fmt: Format) -> str:
    return _("+1 keeper") if fmt.keeper_option else ""


def _players(doc: DrillDocument, fmt: Format) -> str:
    numbers = doc.numbers
    if numbers.kind.value == "exact":
        return f"{fmt.players}"
    if numbers.kind.value == "anyone":
        return _("anyone can join")
    return players_words(numbers.least, numbers.most)


def chips_of(doc: DrillDocument) -> list[str]:
    """What kind of drill it is, in a word each: both ways or one, heading, indoors, ages."""
    chips = [
        str(words.DIRECTIONS[doc.direction]),
        str(words.HEADINGS[doc.heading]),
        str(words.INDOORS[doc.indoors]),
    ]
    if doc.heading.value == "planned" and doc.headers_per_player:
        chips[1] = _("{n} headers a player").format(n=doc.headers_per_player)
    if ages := under_words(doc.under_from, doc.under_to, _):
        chips.append(ages)
    if doc.shot_towards:
        chips.append(_("shots go towards {where}").format(where=doc.shot_towards))
    return chips
