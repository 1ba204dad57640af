"""The parts of a sheet: each station as it is played tonight, in words and drawn."""

from typing import Any

from django.utils.translation import gettext as _

from club.caches import MIB, remembered
from club.choices import bib_word
from drills.choices import kit_word
from drills.drawing.picture import scene_of
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.words import describe, title_of
from drills.game.document import DrillDocument
from drills.game.document.operations import AddCondition, ReplaceCondition, Variation
from drills.game.fit import SetUp
from drills.game.sentences import Names, say, say_change, say_grid
from drills.game.steps import steps
from drills.game.variations import apply, find, played
from drills.game.wording import sentence
from drills.pages import grid_words, size_shown, told
from sessions.pages.pitch.coaching import coaching_of
from sessions.pages.pitch.rungs import open_condition
from sessions.pages.pitch.tonight import tonight_of
from sessions.pages.stations.at_once import rounds_of
from sessions.planning.clock import clock_text
from sessions.queries.plan import PartView, SessionView
from sessions.queries.station import StationView
from sessions.sheet import IfTooEasyOrHard, Picture, SheetPart, SheetStation, SheetTeam, SheetTurn

LONGEST_RUNG = 170  # characters


def parts_on_sheet(view: SessionView, stays: list[str], *, without_colour: bool) -> list[SheetPart]:
    """Every part with its stations; `stays` says for each what is left standing from the part before."""
    return [
        _part(part, text, without_colour=without_colour) for part, text in zip(view.parts, stays, strict=True)
    ]


def _part(part: PartView, stays: str, *, without_colour: bool) -> SheetPart:
    row, spells = part.row, [each for each in part.times.spells if each.kind == "bout"]
    clocks = tuple(f"{clock_text(each.starts_at)}–{clock_text(each.ends_at)}" for each in spells)
    return SheetPart(
        number=part.number,
        title=part.title,
        kind=str(row.get_kind_display()),
        clock=f"{clock_text(part.times.starts_at)}–{clock_text(part.times.ends_at)}",
        bouts=_bouts(row.bouts, row.bout_s, row.rest_s),
        effort=f"CR10 {float(row.effort):g}",
        clocks=clocks,
        stays=stays,
        stations=tuple(
            station_on_sheet(each, clocks, f"p{part.number}-{index}-", without_colour=without_colour)
            for index, each in enumerate(part.stations)
            if each.drill is not None
        ),
        groups=_groups(part),
    )


def _groups(part: PartView) -> str:
    """Who goes where when groups change round, bout by bout."""
    if len(part.stations) < 2 or not part.row.changes_round:
        return ""
    rounds = rounds_of(part.row)
    ways = [
        _("{station}: {groups}").format(
            station=each.title or each.row.place,
            groups=" → ".join(
                [rounds.bouts[0][index]] if each.row.stays else [bout[index] for bout in rounds.bouts]
            ),
        )
        for index, each in enumerate(part.stations)
    ]
    return _("Groups by round. {ways}.").format(ways="; ".join(ways))


def _bouts(bouts: int, bout_s: int, rest_s: int) -> str:
    text = f"{bouts} × {bout_s // 60}:{bout_s % 60:02}"
    if rest_s and bouts > 1:
        text += ", " + _("rest {length}").format(length=f"{rest_s // 60}:{rest_s % 60:02}")
    return text


def station_on_sheet(
    station: StationView, clocks: tuple[str, ...], prefix: str, *, without_colour: bool = False
) -> SheetStation:
    """A station as it is played tonight; `clocks` are the times of its rounds, `prefix` is for the names in its pictures.

    It has a drill.
    """
    assert station.drill is not None
    assert station.document is not None
    assert station.tonight is not None
    coaching, document = coaching_of(station.document), station.document
    tonight, said = tonight_of(station), told(station.tonight)
    return SheetStation(
        title=station.title,
        rung=station.variation_title,
        line=_line(station),
        numbers=tonight.headline or f"{document.format} · {say_grid(document.grids[0])}",
        size=_size(station),
        condition=open_condition(station.tonight),
        start=said.start,
        rules=_without(said.how, open_condition(station.tonight)),
        colours=said.colours,
        rotation=tonight.rotation,
        coach_place=coaching.coach_place,
        praise=coaching.praise,
        kit=", ".join(f"{count} {kit_word(kind, count)}" for kind, count in sorted(station.kit.items())),
        teams=tuple(
            SheetTeam(bib_word(each.bib), each.count, each.name, each.where, grid.words)
            for grid in tonight.grids
            for each in grid.groups
        ),
        turns=_turns(clocks, tonight.turns_rows),
        say=coaching.say,
        points=coaching.points,
        asks=coaching.asks,
        safety=coaching.safety,
        ladder=_ladder(station.tonight.base, station.row.variation_key, coaching.faults),
        pictures=_pictures(station, prefix, without_colour),
    )


def _without(rules: tuple[str, ...], first: str) -> tuple[str, ...]:
    """The rules below the one that stands out."""
    return tuple(each for each in rules if each != first)


def _size(station: StationView) -> str:
    """What the grid is for, and the area in it; empty where tonight's numbers have made another grid of it."""
    assert station.drill is not None
    assert station.tonight is not None
    written = played(station.tonight.base, station.row.variation_key)
    if station.setup and not _is_as_written(station.setup, written):
        return ""
    return size_shown(station.drill.document, written, written.grids[0]).words


def _is_as_written(setup: SetUp, document: DrillDocument) -> bool:
    """Whether each of tonight's grids has the drill's own numbers and size."""
    grid = document.grids[0]
    return set(setup.grid_sizes) == {(grid.length_m, grid.width_m)} and setup.as_designed


def _line(station: StationView) -> str:
    adult = station.row.adult
    stands = station.document.coach_place if station.document else ""
    said = [station.row.group, station.row.place, adult.name if adult else ""]
    if stands:
        said.append(_("Stand: {where}").format(where=stands.rstrip(".")))
    return " · ".join(each for each in said if each)


def _turns(clocks: tuple[str, ...], rows: list[list[str]]) -> tuple[SheetTurn, ...]:
    """The bouts by the clock with who is where; a rotation that was made for other bouts is left out."""
    if len(rows) != len(clocks):
        return ()
    return tuple(
        SheetTurn(number, clock, *who)
        for number, (clock, who) in enumerate(zip(clocks, rows, strict=True), start=1)
    )


def _ladder(document: DrillDocument, key: str, faults: tuple[tuple[str, str], ...]) -> IfTooEasyOrHard:
    """The next rung up and down, and the commonest fault with its mending."""
    fault = _("{fault} {fix}").format(fault=faults[0][0], fix=faults[0][1]) if faults else ""
    found = steps(document, key)
    return IfTooEasyOrHard(
        easy=_rung(document, found.harder),
        hard=_rung(document, found.easier),
        chaos=fault or _("Wait until the ball is out, say the one rule again, start with half of them."),
    )


def _rung(document: DrillDocument, key: str | None) -> str:
    if key is None:
        return ""
    variation = find(document, key)
    return _("Back to the drill as it is written.") if variation is None else _said(document, variation)


def _said(document: DrillDocument, variation: Variation) -> str:
    """A rung's title with as many of its changes as are said in one breath."""
    after = apply(document, variation)
    names = Names.of(after, _)
    said = f"{variation.title}."
    for change in variation.changes:
        if isinstance(change, AddCondition | ReplaceCondition):
            text = sentence(say(change.condition, names))
        else:
            text = say_change(change, document, after, names)
        if len(said) + len(text) > LONGEST_RUNG:
            break
        said += f" {text}"
    return said


def _drawn_key(station: StationView, prefix: str, without_colour: bool) -> tuple[Any, ...]:
    """What a drawing depends on; `_("Coach")` stands for the language of the words in it."""
    revision = station.row.revision
    setup = str(station.row.setup)
    return revision and revision.sha256, station.row.variation_key, setup, prefix, without_colour, _("Coach")


@remembered(most_bytes=6 * MIB, key=_drawn_key)
def _pictures(station: StationView, prefix: str, without_colour: bool) -> tuple[Picture, ...]:
    """The plan of every grid that differs."""
    if station.tonight is None:
        return ()
    words = grid_words(station.tonight)
    found = []
    for number, (grid, _times) in enumerate(station.tonight.pictures):
        scene = scene_of(station.tonight, grid)
        options = DrawingOptions(
            prefix=f"{prefix}{number or ''}", hatched="always" if without_colour else "no", translate=_
        )
        text = f"{title_of(scene, _)}. {describe(scene, translate=_)}"
        found.append(Picture(render(scene, options=options), text, words[number]))
    return tuple(found)
