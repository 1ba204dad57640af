"""A moving plan as a film: the picture in motion held still at each of a row of times.

The film is made from the SVG that a page plays (`svg.render` with `moving`), so it shows what the page shows. Its
figures, whoever and whatever moves, are taken out of the picture: what is left changes only from step to step, and a
figure looks the same wherever it is. Sizes are pixels of a frame, times are the scene's seconds unless said.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass
from functools import cached_property
from xml.etree import ElementTree

from drills.drawing.paper import SVG_NAMESPACE, fmt
from drills.drawing.pose import between
from drills.game.scene import Point

# Judged by eye on plans of the demo club, with the bytes and seconds that `make bench` prints: no source.
FPS, WIDTH_PX = 15, 720
LONGEST_S = 20.0  # of the film; what lasts longer plays faster, so that it is whole
HOLD_S = 1.0  # the last frame stands, so that one sees where it ends before it starts again
_SVG = f"{{{SVG_NAMESPACE}}}"
_MOVES, _CHANGES = f"{_SVG}animateTransform", f"{_SVG}animate"
ElementTree.register_namespace("", SVG_NAMESPACE)
Piece = ElementTree.Element


@dataclass(frozen=True)
class MovingFigure:
    """Something that is drawn by itself. `look` is drawn round (0, 0); `ways` are the translations that add up to its place."""

    look: Piece
    ways: tuple[Piece, ...]

    def at(self, time_s: float) -> Point:
        """Where it is, in units of the picture."""
        spots = [_spot(each, time_s) for each in self.ways]
        return sum(x for x, _ in spots), sum(y for _, y in spots)


@dataclass(frozen=True)
class Film:
    """A picture in motion as SVG text, and how long its moves take. Raises ValueError for text that is no picture."""

    svg: str
    end_s: float

    @property
    def speed(self) -> float:
        """How many times as fast as drawn it plays; 1 for all that fits into LONGEST_S seconds with the hold."""
        return max(1.0, self.end_s / (LONGEST_S - HOLD_S))

    @cached_property
    def times_s(self) -> tuple[float, ...]:
        """The scene's time of each frame: from 0 to the end, FPS in a second of the film, then the end held."""
        moving = math.ceil(self.end_s / self.speed * FPS)
        held = math.floor(HOLD_S * FPS)
        return (*(n / FPS * self.speed for n in range(moving)), *(self.end_s,) * held)

    @cached_property
    def size_px(self) -> tuple[int, int]:
        """Width and height of a frame: even, as colour is kept for two dots by two; the whole picture is in it."""
        _, _, width, height = self.box
        return WIDTH_PX, 2 * math.ceil(WIDTH_PX * height / width / 2)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of the picture, in its units."""
        left, top, width, height = map(float, self._root.attrib["viewBox"].split())
        return left, top, width, height

    @property
    def scale(self) -> float:
        """Pixels in a unit of the picture."""
        return WIDTH_PX / self.box[2]

    @cached_property
    def figures(self) -> tuple[MovingFigure, ...]:
        """Whoever and whatever moves, from the lowest up, with those that stand above the first of them."""
        return tuple(_figure(chain) for chain in self._chains)

    def ground(self, time_s: float) -> str:
        """The picture at a time without its figures, as SVG text of the size of a frame; the same from step to step."""
        taken = {id(chain[-1]) for chain in self._chains}
        return self._sheet(stilled(self._root, time_s, without=taken))

    def whole(self, time_s: float) -> str:
        """The picture at a time, as SVG text of the size of a frame."""
        return self._sheet(stilled(self._root, time_s))

    def frames(self) -> Iterator[tuple[float, str]]:
        """Each frame whole: its time in seconds of the scene, and the picture as SVG text. Raises ValueError as `stilled` does."""
        for time_s in self.times_s:
            yield time_s, self.whole(time_s)

    def drawn(
        self, placed: Iterable[tuple[MovingFigure, Point]], size_px: tuple[int, int], scale: float
    ) -> str:
        """Figures by themselves, each round a point in pixels, as SVG text of a size, on nothing."""
        made = Piece(f"{_SVG}g")
        for figure, (x, y) in placed:
            place = {"transform": f"translate({x:.3f} {y:.3f}) scale({scale:.6f})"}
            ElementTree.SubElement(made, f"{_SVG}g", place).append(figure.look)
        return self._page([*self._patterns, made], size_px)

    def _sheet(self, root: Piece) -> str:
        left, top, _, _ = self.box
        made = Piece(
            f"{_SVG}g", {"transform": f"scale({self.scale:.6f}) translate({fmt(-left)} {fmt(-top)})"}
        )
        made.extend(root)
        return self._page([made], self.size_px)

    def _page(self, inside: Sequence[Piece], size_px: tuple[int, int]) -> str:
        width, height = size_px
        given = {name: value for name, value in self._root.attrib.items() if name != "viewBox"}
        made = Piece(f"{_SVG}svg", {**given, "width": str(width), "height": str(height)})
        made.extend(inside)
        return ElementTree.tostring(made, encoding="unicode")

    @cached_property
    def _root(self) -> Piece:
        try:
            return ElementTree.fromstring(self.svg)
        except ElementTree.ParseError as error:
            raise ValueError("svg: is no picture") from error

    @cached_property
    def _patterns(self) -> list[Piece]:
        return [each for each in self._root if each.tag == f"{_SVG}defs"]

    @cached_property
    def _chains(self) -> list[tuple[Piece, ...]]:
        """Each figure with the groups that it stands in, outermost first, in the order in which they are drawn."""
        every = list(_placed(self._root, ()))
        first = next((at for at, chain in enumerate(every) if _is_moving(chain[-1])), len(every))
        return every[first:]


def _placed(parent: Piece, above: tuple[Piece, ...]) -> Iterator[tuple[Piece, ...]]:
    """All that has a place of its own, as it is drawn, with the groups around it."""
    for each in parent:
        if _has_place(each):
            yield *above, each
        elif each.tag == f"{_SVG}g" and "transform" not in each.attrib and each.get("class") != "legend":
            yield from _placed(each, (*above, each))


def _figure(chain: tuple[Piece, ...]) -> MovingFigure:
    """What stands in its groups, without its place: neither its own nor that of groups alone inside it."""
    *above, own = chain
    ways: list[Piece] = []
    look = _bare(own, ways)
    for around in reversed(above):
        holder = Piece(around.tag, around.attrib)
        holder.append(look)
        look = holder
    return MovingFigure(look, tuple(ways))


def _bare(piece: Piece, ways: list[Piece]) -> Piece:
    """Without its place and what moves it, which are added to the ways."""
    ways.append(piece)
    made = Piece(piece.tag, {name: value for name, value in piece.attrib.items() if name != "transform"})
    inside = [each for each in piece if each.tag not in (_MOVES, _CHANGES)]
    alone = len(inside) == 1 and _has_place(inside[0])
    made.extend([_bare(inside[0], ways)] if alone else inside)
    return made


def _has_place(piece: Piece) -> bool:
    return piece.get("transform", "").startswith("translate(") or _is_moving(piece)


def _is_moving(piece: Piece) -> bool:
    return any(each.tag == _MOVES for each in piece)


def stilled(piece: Piece, time_s: float, *, without: Set[int] = frozenset()) -> Piece:
    """A piece as its animations leave it at a time, without them and without the pieces of the identities named.

    Raises ValueError for an animation that no plan has.
    """
    made = Piece(piece.tag, piece.attrib)
    made.text = piece.text
    for each in piece:
        if each.tag == _MOVES:
            made.set("transform", _translation(_moved(each, time_s)))
        elif each.tag == _CHANGES:
            made.set(each.attrib["attributeName"], _changed(each, time_s))
        elif id(each) not in without:
            made.append(stilled(each, time_s, without=without))
    return made


def _spot(piece: Piece, time_s: float) -> Point:
    """Where a piece's own translation puts it at a time."""
    for each in piece:
        if each.tag == _MOVES:
            return _moved(each, time_s)
    x, y = map(float, piece.attrib["transform"].removeprefix("translate(").rstrip(")").split())
    return x, y


def _translation(to: Point) -> str:
    return f"translate({fmt(to[0], 2)} {fmt(to[1], 2)})"


def _moved(animation: Piece, time_s: float) -> Point:
    """Straight from place to place, evenly in time between them."""
    if animation.attrib["type"] != "translate":
        raise ValueError(f"type: {animation.attrib['type']} is not a plan's")
    spots = [_pair(each) for each in animation.attrib["values"].split(";")]
    times, share = _shares(animation, len(spots)), _share(animation, time_s)
    after = bisect_right(times, share)
    if after == len(spots):
        return spots[-1]
    part = (share - times[after - 1]) / (times[after] - times[after - 1])
    return between(spots[after - 1], spots[after], part)


def _pair(text: str) -> Point:
    x, y = map(float, text.split())
    return x, y


def _changed(animation: Piece, time_s: float) -> str:
    """One word after the other, each from its own time."""
    if animation.attrib["calcMode"] != "discrete":
        raise ValueError(f"calcMode: {animation.attrib['calcMode']} is not a plan's")
    words = animation.attrib["values"].split(";")
    return words[bisect_right(_shares(animation, len(words)), _share(animation, time_s)) - 1]


def _shares(animation: Piece, count: int) -> list[float]:
    """When each value stands, as shares of the animation's length; from end to end where it does not say so."""
    said = animation.attrib.get("keyTimes")
    return [float(each) for each in said.split(";")] if said else [at / (count - 1) for at in range(count)]


def _share(animation: Piece, time_s: float) -> float:
    """How much of an animation is over: 0 before it begins, 1 from its end, as all freeze there."""
    begin_s, lasts_s = (float(animation.attrib.get(name, "0s").rstrip("s")) for name in ("begin", "dur"))
    return min(1.0, max(0.0, (time_s - begin_s) / lasts_s))
