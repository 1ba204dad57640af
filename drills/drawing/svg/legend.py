"""The legend under a plan: what each mark on this plan means, and nothing that is not on it.

What has its name beside it needs no entry: the coach, a zone with a title, a supply with its number, measures.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from drills.drawing.paper import INK, Element, Markup, group, path, text_width, words, write
from drills.drawing.pose import Pose
from drills.drawing.svg import arrows, figures, ghosts, ground
from drills.drawing.svg.sheet import DrawingSheet
from drills.drawing.words import group_names
from drills.game.scene import Step

ROW, SLOT, SIZE, EDGE = 17.0, 22.0, 11.0, 4.0
Shown = tuple[tuple[int, Step], ...]


class LegendEntry(NamedTuple):
    """A mark round (0, 0), its width in units, what it means; `of` is the class of one that waits as its marks do."""

    mark: Element | Markup
    wide: float
    words: str
    of: str = ""


def legend(sheet: DrawingSheet, pose: Pose, shown: Shown, top: float) -> tuple[Element, float]:
    """The legend below `top` and its height, both in units of the sheet."""
    placed: list[Element | Markup | None] = []
    x, y = EDGE, top + ROW / 2
    for each in _entries(sheet, pose, shown):
        wide = each.wide + 5 + text_width(each.words, SIZE)
        if x > EDGE and x + wide > sheet.width_u - EDGE:
            x, y = EDGE, y + ROW
        where = f"translate({x + each.wide / 2:.1f} {y:.1f})"
        drawn = each.mark if isinstance(each.mark, str) else write(each.mark)
        said = words(x + each.wide + 5, y, each.words, size=SIZE, anchor="start")
        pair = (Markup(f'<g transform="{where}">{drawn}</g>'), said)
        placed += [group(pair, cls=each.of, display="none")] if each.of else pair
        x += wide + 11
    return group(placed, cls="legend"), (y + ROW / 2 - top if placed else 0.0)


def _entries(sheet: DrawingSheet, pose: Pose, shown: Shown) -> list[LegendEntry]:
    known = [*_people(sheet, pose), *_paths(sheet, shown), *_things(sheet), *_lanes(sheet)]
    return sorted(known, key=lambda each: bool(each.of))  # what may be missing comes last and leaves no hole


def _people(sheet: DrawingSheet, pose: Pose) -> list[LegendEntry]:
    names = group_names(sheet.scene, sheet.options.translate)
    found = [
        LegendEntry(figures.inked((figures.player_mark(player, 7, "", sheet),), cls="mark"), 16, name)
        for player, name in names
    ]
    outline = ghosts.outlines([(each, (0, 0)) for each in ghosts.away(sheet, pose)[:1]], 6)
    if outline is not None:
        found.append(LegendEntry(outline, 14, sheet.options.say("legend_ghost")))
    return found


def _paths(sheet: DrawingSheet, shown: Shown) -> list[LegendEntry]:
    say = sheet.options.say
    kinds = {arrows.move_kind(move) for _, step in shown for move in step.moves}
    found: list[LegendEntry] = []
    if "ball" in kinds:
        found.append(LegendEntry(_ball_path(), 32.0, say("legend_ball")))
    elif sheet.scene.balls:
        found.append(LegendEntry(figures.ball_mark(3), 8.0, say("legend_ball")))
    found += [
        LegendEntry(_path(kind), 30.0, say(f"legend_{kind}"))
        for kind in ("high", "run", "carry")
        if kind in kinds
    ]
    numbers = arrows.numbers(sheet, shown)
    if numbers:
        found.append(LegendEntry(arrows.badge((0, 0), min(numbers)), 11.0, say("legend_step")))
    return found


def _lanes(sheet: DrawingSheet) -> list[LegendEntry]:
    """Of the lanes that are shown; those of moments wait, as their lanes do."""
    say, options = sheet.options.say, sheet.options
    waits = not options.lanes
    drawn = list(options.lanes) or [lane for each in options.moments for lane in each]
    entries: list[LegendEntry] = []
    if any(each.open for each in drawn):
        line = arrows.lane_line((-11, 0), (11, 0), is_open=True)
        entries.append(LegendEntry(line, 22.0, say("legend_open_lane"), "of-open" if waits else ""))
    if any(not each.open for each in drawn):
        shut = group((arrows.lane_line((-11, 0), (11, 0), is_open=False), arrows.cut_mark((0, 0))))
        entries.append(LegendEntry(shut, 22.0, say("legend_shut_lane"), "of-shut" if waits else ""))
    told = arrows.with_seconds(sheet, drawn)
    if told:
        waits = waits or options.seconds == "asked"
        mark = arrows.margin_mark((0, 0), told[0].margin_s)
        entries.append(LegendEntry(mark, 28.0, say("legend_seconds"), "of-seconds" if waits else ""))
    return entries


def _things(sheet: DrawingSheet) -> list[LegendEntry]:
    say, length = sheet.options.say, sheet.options.length
    entries: list[LegendEntry] = []
    for is_open, wide in sorted({(each.open, each.width_m) for each in sheet.scene.goals}, reverse=True):
        key = "legend_goal" if is_open else "legend_shut_goal"
        entries.append(LegendEntry(_goal(is_open), SLOT, say(key, width=length(wide))))
    entries += [
        LegendEntry(_gate(sheet.plain), SLOT, say("legend_gate", width=length(each)))
        for each in sorted(_gate_widths(sheet))
    ]
    if sheet.scene.cones:
        entries.append(LegendEntry(_cone(sheet.plain), 8, say("legend_cone")))
    if any(not each.title for each in sheet.scene.zones):
        entries.append(
            LegendEntry(ground.zone_area((-9, -5), (18, 10), plain=sheet.plain), SLOT, say("legend_zone"))
        )
    return entries


def _gate_widths(sheet: DrawingSheet) -> set[float]:
    return {each.width_m for each in sheet.scene.gates}


# The marks below are the same in every legend.


@cache
def _path(kind: str) -> Markup:
    return Markup(write(arrows.inked((arrows.move_mark((-15, 0), (15, 0), kind),))))


@cache
def _ball_path() -> Markup:
    """A ball and its way, since both are drawn: a disc, then an arrow that leaves it."""
    disc = group((figures.ball_mark(2.8),), transform="translate(-13 0)")
    line = arrows.inked((arrows.move_mark((-8, 0), (16, 0), "ball"),))
    return Markup(write(disc) + write(line))


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
