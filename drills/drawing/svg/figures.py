"""Players, adults and balls. A side differs by shape and letter as well as by colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from drills.drawing.bibs import bib_of, slug
from drills.drawing.paper import (
    BASELINE,
    INK,
    PAPER,
    Element,
    Markup,
    el,
    escaped,
    fmt,
    group,
    on_paper,
    path,
    short,
    words,
    write,
)
from drills.drawing.pose import Pose
from drills.drawing.svg.room import Stand, first_free, round_about
from drills.drawing.svg.sheet import DrawingSheet
from drills.game.scene import Point, SceneBall, ScenePlayer

RINGS = ("C", "D", "neutral")
WORD = 9.5  # the size of a word beside a mark


def players(sheet: DrawingSheet, pose: Pose) -> Element:
    """Everybody. What all marks share is said once, on the group."""
    return inked(_each_player(sheet, pose), cls="players")


def inked(marks: Iterable[Element | None], *, cls: str) -> Element:
    """Marks as one group that says once what all have: the ink, the width of their lines, bold type."""
    return group(marks, cls=cls, stroke=INK, stroke_width=1.2, font_weight="600")


def _each_player(sheet: DrawingSheet, pose: Pose) -> Iterator[Element]:
    for each in sheet.scene.players:
        label = "" if sheet.thumbnail else shown_label(each)
        figure = player_mark(each, sheet.radius_u, label, sheet)
        figure.stand(sheet.at(pose.players[each.key]), each.key)
        yield figure


def shown_label(player: ScenePlayer) -> str:
    """What fits the mark: a number or up to two letters; longer words stand in the text alternative."""
    label = player.label or ("" if player.kind == "adult" else player.side[:1].upper())
    return label if len(label) <= 2 else label[:1].upper()


def player_mark(player: ScenePlayer, radius: float, label: str, sheet: DrawingSheet) -> Element:
    """The mark of a player round (0, 0), also used in the legend; `radius` in units of the sheet."""
    side, bib, plain = player.side, slug(player.bib), sheet.plain
    cls = f"player side-{side} bib-{bib}"
    if player.kind == "adult":
        return group((_cross(radius), _beside(label, radius)), cls=f"{cls} adult")
    keeper = player.kind == "keeper"
    ring = not keeper and side in RINGS
    hatched = "no" if sheet.thumbnail else sheet.options.hatched
    made = Element("g", f' class="{cls} keeper"' if keeper else f' class="{cls}"')
    made.inside.append(_look(keeper, side, bib, radius, hatched, plain, sheet.options.prefix))
    if label:
        ink = INK if plain or ring else bib_of(player.bib).ink
        cls = "label-paper" if ring else "label"
        made.inside.append(_label(label, radius, ink, halo=plain and not ring, cls=cls))
    return made


@lru_cache(maxsize=512)
def _look(keeper: bool, side: str, bib: str, radius: float, hatched: str, plain: bool, prefix: str) -> Markup:
    """What a mark looks like without its label; many wear the same."""
    parts = [shape(keeper, side, radius, fill="#fff" if plain else bib_of(bib.replace("-", " ")).paint)]
    if hatched != "no":
        hidden = "none" if hatched == "in print" else None
        fill = f"url(#{prefix}hatch-{bib})"
        parts.append(shape(keeper, side, radius, cls="hatch", fill=fill, display=hidden))
    if not keeper and side in RINGS:
        parts += _hole(side, radius)
    return Markup("".join(write(each) for each in parts))


def ball_at(sheet: DrawingSheet, ball: SceneBall, pose: Pose) -> Element:
    """A ball lies at the foot of whoever has it; several in one place are a supply with its number."""
    state = pose.balls[ball.key]
    x, y = sheet.at((state.x_m, state.y_m))
    if state.holder is not None:
        x, y = x + foot(sheet)[0], y + foot(sheet)[1]
    made = ball_mark(ball_radius(sheet), ball.count, beside=count_stand(sheet, ball))
    made.stand((x, y), ball.key)
    return made


def balls(sheet: DrawingSheet, pose: Pose) -> Iterator[Element]:
    """Every ball where it is in this pose, at somebody's feet or on the ground."""
    for ball in sheet.scene.balls:
        yield ball_at(sheet, ball, pose)


def foot(sheet: DrawingSheet) -> tuple[float, float]:
    """Where the ball lies beside whoever has it, in units from their middle."""
    return sheet.radius_u * 0.95, sheet.radius_u * 0.8


def ball_radius(sheet: DrawingSheet) -> float:
    """In units of the sheet: in proportion to a player, but never too small to be seen."""
    return max(1.8 if sheet.thumbnail else 2.8, sheet.radius_u * 0.36)


def count_stand(sheet: DrawingSheet, ball: SceneBall) -> Stand | None:
    """Where the number of a supply stands; None where there is none to show."""
    if ball.count == 1 or sheet.thumbnail:
        return None
    at = sheet.at((ball.x_m, ball.y_m))
    return first_free(sheet, at, f"×{ball.count}", WORD, round_about(ball_radius(sheet) * 2.8))


def ball_mark(radius: float, count: int = 1, *, beside: Stand | None = None) -> Element:
    """A ball round (0, 0), or several as a heap with their number at `beside`; `radius` in units of the sheet."""
    number = words(beside.x, beside.y, f"×{count}", size=WORD, anchor=beside.anchor) if beside else None
    written = on_paper([number]) if number else None
    return group((_discs(radius, heap=count > 1), written), cls="ball")


@lru_cache(maxsize=256)
def _discs(radius: float, *, heap: bool) -> Markup:
    places = ((0.0, -1.1), (-1.1, 0.9), (1.1, 0.9)) if heap else ((0.0, 0.0),)
    discs = (
        el("circle", cx=x * radius, cy=y * radius, r=radius, fill=INK, stroke=PAPER, stroke_width=1)
        for x, y in places
    )
    return Markup("".join(write(each) for each in discs))


def coach(sheet: DrawingSheet) -> Element | None:
    """A cross where the coach stands, with a word beside it unless it is small; None where the plan has no coach."""
    spot = sheet.scene.coach
    if spot is None:
        return None
    x, y = sheet.at((spot.x_m, spot.y_m))
    name = None if sheet.thumbnail else _coach_word(sheet, (x, y))
    return group(
        (_cross(sheet.radius_u), name),
        cls="adult coach",
        data_key="coach",
        transform=f"translate({fmt(x)} {fmt(y)})",
    )


def _coach_word(sheet: DrawingSheet, at: Point) -> Element:
    text = sheet.options.say("legend_coach")
    stand = first_free(sheet, at, text, WORD, round_about(sheet.radius_u * 1.1))
    made = words(stand.x, stand.y, text, size=WORD, anchor=stand.anchor, font_weight="400")
    return on_paper([made])


def shape(keeper: bool, side: str, radius: float, *, cls: str = "body", **paint: str | None) -> Element:
    """The outline that tells a side, round (0, 0): a diamond, a square or a circle; `radius` in units of the sheet."""
    given: dict[str, str | float | None] = {**paint}
    if keeper:
        reach = radius * 1.25
        d = f"M0 {fmt(-reach)}L{fmt(reach)} 0L0 {fmt(reach)}L{fmt(-reach)} 0Z"
        return el("path", cls=cls, d=d, **given)
    if side in ("B", "C"):
        half = radius * 0.9
        return el("rect", cls=cls, x=-half, y=-half, width=2 * half, height=2 * half, rx=1, **given)
    return el("circle", cls=cls, r=radius, **given)


def _hole(side: str, radius: float) -> list[Element]:
    """What makes a ring of a mark. The fourth side has a second, thin ring inside."""
    inner = radius * 0.68
    given: dict[str, str | float | None] = {"fill": PAPER, "stroke_width": 0.8}
    if side == "C":
        half = inner * 0.9
        return [el("rect", cls="hole", x=-half, y=-half, width=2 * half, height=2 * half, **given)]
    hole = [el("circle", cls="hole", r=inner, **given)]
    if side == "D":
        hole.append(el("circle", cls="hole", r=inner * 0.82, **given))
    return hole


def _label(label: str, radius: float, ink: str, *, halo: bool, cls: str) -> Markup:
    size = radius * (1.25 if len(label) == 1 else 1.05)
    edge = ' stroke="#fff" stroke-width="2.6" paint-order="stroke"' if halo else ' stroke="none"'
    place = f'y="{short(size * BASELINE)}" font-size="{short(size)}"'
    return Markup(f'<text class="{cls}" {place} fill="{ink}"{edge}>{escaped(label)}</text>')


@lru_cache(maxsize=256)
def _cross(radius: float) -> Markup:
    arm = fmt(radius * 0.72)
    d = f"M-{arm} -{arm}L{arm} {arm}M-{arm} {arm}L{arm} -{arm}"
    return Markup(write(path(d, cls="cross", width=max(1.6, radius * 0.3), stroke_linecap="round")))


def _beside(label: str, radius: float) -> Element | None:
    made = words(radius * 1.1, 0, label, size=WORD, anchor="start", font_weight="400")
    return on_paper([made]) if label else None
