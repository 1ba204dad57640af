"""The plan in motion: declarative animation on the picture's own clock, whose seconds are those of the scene.

Nothing starts by itself that a page can't hold: `pauseAnimations` and `setCurrentTime` of the root move everything.
The attributes under the animation are those of the still, for paper and for readers that know no animation.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drills.drawing.paper import Element, Markup, fmt, group, traced
from drills.drawing.svg import figures
from drills.drawing.svg.sheet import DrawingSheet
from drills.drawing.tracks import Track, ball_tracks, player_tracks
from drills.game.scene import Point, SceneBall, Step

LEAST_STEP_U = 0.05  # what moves less than this does not move


def figures_in_motion(sheet: DrawingSheet, still: Element) -> Iterator[Element]:
    """The players of the still set in motion, then the balls: exact where they are, drawn at the foot of who has them."""
    tracks = player_tracks(sheet.scene)
    for player, figure in zip(sheet.scene.players, still.inside, strict=True):
        if isinstance(figure, Element):
            figure.append(_along(sheet, tracks[player.key]))
    yield still
    for ball, track in zip(sheet.scene.balls, ball_tracks(sheet.scene, tracks).values(), strict=True):
        yield _ball(sheet, ball, track)


def shown_in_turn(groups: Sequence[Element], steps: Sequence[Step]) -> None:
    """Show each step's paths from its start to the start of the next; the last one's stay."""
    end_s = steps[-1].end_s if steps else 0.0
    for place, (made, step) in enumerate(zip(groups, steps, strict=True)):
        until = steps[place + 1].start_s if place + 1 < len(steps) else end_s
        # Nothing of the step before its start, and nothing after it where there is an after.
        times = [0.0, step.start_s if place else 0.0, until]
        words = ["none", "inline", "none" if until < end_s else "inline"]
        made.append(_discrete("display", times, words, end_s))


def _ball(sheet: DrawingSheet, ball: SceneBall, track: Track) -> Element:
    shift = figures.foot(sheet)
    mark = figures.ball_mark(figures.ball_radius(sheet), ball.count, beside=figures.count_stand(sheet, ball))
    inner: Element = mark
    if any(each.held for each in track):
        first = shift if track[0].held else (0.0, 0.0)
        inner = group((mark,), transform=_translate(first) if track[0].held else None)
        beside = [(each.time_s, shift if each.held else (0.0, 0.0)) for each in track]
        inner.append(_animated(beside))
    made = group((inner,), data_key=ball.key, transform=_translate(sheet.at(track[0].point)))
    made.append(_along(sheet, track))
    return made


def _along(sheet: DrawingSheet, track: Track) -> Markup | None:
    if len(track) == 1:
        return None
    return _animated([(each.time_s, sheet.at(each.point)) for each in track])


def _animated(places: list[tuple[float, Point]]) -> Markup | None:
    """A translation through places at times; nothing for what stays where it is."""
    places = _moving_part(places)
    if len(places) < 2:
        return None
    begin_s, span_s = places[0][0], places[-1][0] - places[0][0]
    if span_s == 0:
        return None
    values = traced(";".join(["%.1f %.1f"] * len(places)), *(each for _, spot in places for each in spot))
    times = ""
    if len(places) > 2:
        share = (
            "%.4f" if span_s <= 10 else "%.5f"
        )  # a thousandth of a second is two centimetres of a hard shot
        shares = [
            (share % ((time_s - begin_s) / span_s)).strip("0").rstrip(".") or "0" for time_s, _ in places
        ]
        times = f' keyTimes="{";".join(shares)}"'
    return Markup(
        '<animateTransform attributeName="transform" type="translate" '
        f'begin="{fmt(begin_s, 3)}s" dur="{fmt(span_s, 3)}s" fill="freeze" values="{values}"{times}/>'
    )


def _moving_part(places: list[tuple[float, Point]]) -> list[tuple[float, Point]]:
    """Without the waiting before the first move and after the last."""
    first, last = 0, len(places) - 1
    while first < last and not _apart(places[first], places[first + 1]):
        first += 1
    while first < last and not _apart(places[last - 1], places[last]):
        last -= 1
    return places[first : last + 1]


def _apart(one: tuple[float, Point], other: tuple[float, Point]) -> bool:
    (ax, ay), (bx, by) = one[1], other[1]
    return abs(ax - bx) > LEAST_STEP_U or abs(ay - by) > LEAST_STEP_U


def _discrete(name: str, times_s: list[float], words: list[str], end_s: float) -> Markup:
    kept = [n for n in range(len(times_s)) if n + 1 == len(times_s) or times_s[n] < times_s[n + 1]]
    values = ";".join([words[n] for n in kept])
    # Rounded down: at the very start of a step its own paths are there, not those of the step before.
    times = ";".join([fmt(math.floor(times_s[n] / end_s * 1e5) / 1e5, 5) for n in kept])
    return Markup(
        f'<animate attributeName="{name}" calcMode="discrete" dur="{fmt(end_s, 3)}s" fill="freeze" '
        f'values="{values}" keyTimes="{times}"/>'
    )


def _translate(point: Point) -> str:
    return f"translate({fmt(point[0])} {fmt(point[1])})"
