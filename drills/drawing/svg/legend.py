"""The legend under a plan: what each mark on this plan means, and nothing that is not on it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from drills.drawing.paper import INK, Element, Markup, group, path, text_width, words, write
from drills.drawing.svg import arrows, figures, ground
from drills.drawing.svg.sheet import DrawingSheet
from drills.drawing.words import group_names
from drills.game.scene import Step

ROW, SLOT, SIZE, EDGE = 17.0, 22.0, 11.0, 4.0
Entry = tuple[Element | Markup, float, str]  # the mark round (0, 0), its width, the words


def legend(sheet: DrawingSheet, shown: Iterable[Step], top: float) -> tuple[Element, float]:
    """The legend below `top` and its height, both in units of the sheet."""
    placed: list[Element | Markup] = []
    x, y = EDGE, top + ROW / 2
    for drawn, slot, text in _entries(sheet, list(shown)):
        wide = slot + 5 + text_width(text, SIZE)
        if x > EDGE and x + wide > sheet.width_u - EDGE:
            x, y = EDGE, y + ROW
        where = f"translate({x + slot / 2:.1f} {y:.1f})"
        mark = Markup(f'<g transform="{where}">{drawn if isinstance(drawn, str) else write(drawn)}</g>')
        placed += [mark, words(x + slot + 5, y, text, size=SIZE, anchor="start")]
        x += wide + 11
    return group(placed, cls="legend"), (y + ROW / 2 - top if placed else 0.0)


def _entries(sheet: DrawingSheet, shown: list[Step]) -> list[Entry]:
    return [*_people(sheet), *_paths(sheet, shown), *_lanes(sheet), *_things(sheet)]


def _people(sheet: DrawingSheet) -> list[Entry]:
    names = group_names(sheet.scene, sheet.options.translate)
    return [
        (figures.inked((figures.player_mark(player, 7, "", sheet),), cls="mark"), 16, name)
        for player, name in names
    ]


def _paths(sheet: DrawingSheet, shown: list[Step]) -> list[Entry]:
    say = sheet.options.say
    kinds = {arrows.move_kind(move) for step in shown for move in step.moves}
    found: list[Entry] = [
        (_path(kind), 30.0, say(f"legend_{kind}"))
        for kind in ("ball", "high", "run", "carry")
        if kind in kinds
    ]
    return found or ([(figures.ball_mark(3), 8.0, say("legend_ball"))] if sheet.scene.balls else [])


def _lanes(sheet: DrawingSheet) -> list[Entry]:
    say = sheet.options.say
    entries: list[Entry] = []
    drawn = [*sheet.options.lanes, *(lane for each in sheet.options.moments for lane in each)]
    if any(each.open for each in drawn):
        entries.append((arrows.lane_line((-11, 0), (11, 0)), 22.0, say("legend_open_lane")))
    if any(not each.open for each in drawn):
        shut = group((arrows.lane_line((-11, 0), (11, 0)), arrows.cut_mark((0, 0))))
        entries.append((shut, 22.0, say("legend_shut_lane")))
    return entries


def _things(sheet: DrawingSheet) -> list[Entry]:
    say, length = sheet.options.say, sheet.options.length
    entries: list[Entry] = []
    for is_open, wide in sorted({(each.open, each.width_m) for each in sheet.scene.goals}, reverse=True):
        key = "legend_goal" if is_open else "legend_shut_goal"
        entries.append((_goal(is_open), SLOT, say(key, width=length(wide))))
    entries += [
        (_gate(sheet.plain), SLOT, say("legend_gate", width=length(each)))
        for each in sorted(_gate_widths(sheet))
    ]
    if sheet.scene.cones:
        entries.append((_cone(sheet.plain), 8, say("legend_cone")))
    return entries


def _gate_widths(sheet: DrawingSheet) -> set[float]:
    return {each.width_m for each in sheet.scene.gates}


# The marks below are the same in every legend.


@cache
def _path(kind: str) -> Markup:
    return Markup(write(arrows.inked((arrows.move_mark((-15, 0), (15, 0), kind),))))


@cache
def _goal(is_open: bool) -> Markup:
    return Markup(write(ground.goal_frame(lambda share, deep: (share * 9, 4 - deep * 8), is_open=is_open)))


@cache
def _cone(plain: bool) -> Markup:
    return Markup(write(ground.cone_mark((0, 0), 3.6, plain=plain)))


@cache
def _gate(plain: bool) -> Markup:
    paint = INK if plain else ground.CONE
    line = path("M-7 0H7", cls="gate-line", stroke=paint, width=1.4, stroke_dasharray="1.5 2.5")
    cones = (ground.cone_mark((x, 0), 3.4, plain=plain) for x in (-8, 8))
    return Markup(write(group((line, *cones))))
