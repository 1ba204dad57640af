"""A coach's board beside one drill of the demo library: drawn by code from the drill's own plan, in felt pen."""

import io
import random
from itertools import pairwise
from typing import Any

from django.core.files.base import ContentFile

from club.actor import Actor
from drills import actions
from drills.game.document import DrillDocument
from drills.models import Drill

SLUG, CAPTION = "all-aboard", "The board before we start: drivers wait in the lane"
SCALE, MARGIN = 34, 140  # pixels for a metre, and beside the grid
BOARD, FRAME = (246, 247, 243), (176, 180, 182)
PENS = {"red": (196, 32, 38), "blue": (28, 64, 168), "yellow": (22, 22, 24)}
GRID = (60, 66, 70)


def add_board(director: Actor, drill: Drill, document: DrillDocument) -> None:
    """Put the photo of the board beside the drill, as the director would."""
    sent: Any = ContentFile(drawn(document), "board.png")
    actions.add_sketch(actor=director, public_id=drill.public_id, sent=sent, caption=CAPTION)


def drawn(document: DrillDocument) -> bytes:
    """A PNG of the plan's start and the passes of its first step. The same each time."""
    from PIL import Image, ImageDraw

    scene: Any = document.scene
    tall = scene.width_m  # a plan counts upwards, a picture downwards
    size = (int(scene.length_m * SCALE) + 2 * MARGIN, int(scene.width_m * SCALE) + 2 * MARGIN)
    picture = Image.new("RGB", size, BOARD)
    pen = FeltPen(ImageDraw.Draw(picture))
    pen.draw.rectangle((0, 0, size[0] - 1, size[1] - 1), outline=FRAME, width=36)
    for box in ((0.0, 0.0, scene.length_m, scene.width_m), *(_corners(each, tall) for each in scene.zones)):
        pen.box(*box)
    places = {each.key: (each.x_m, tall - each.y_m) for each in scene.players}
    for each in scene.players:
        pen.mark(*places[each.key], each.bib)
    holder = {each.key: each.at for each in scene.balls}
    for move in scene.steps[0].moves:
        if hasattr(move, "ball") and hasattr(move, "to"):
            pen.arrow(places[holder[move.ball]], places[move.to], PENS["red"])
            holder[move.ball] = move.to
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def _corners(zone: Any, tall: float) -> tuple[float, float, float, float]:
    return zone.x_m, tall - zone.y_m - zone.width_m, zone.x_m + zone.length_m, tall - zone.y_m


class FeltPen:
    """Draws as a hand does: no line is quite straight. Lengths in metres of the grid."""

    def __init__(self, draw: Any) -> None:
        self.draw = draw
        self._hand = random.Random(9)

    def line(self, start: tuple[float, float], end: tuple[float, float], colour: tuple[int, ...]) -> None:
        """From one point to another, in ten strokes that wander a little."""
        points = []
        for step in range(11):
            x, y = (a + (b - a) * step / 10 for a, b in zip(start, end, strict=True))
            off = self._hand.uniform(-0.08, 0.08), self._hand.uniform(-0.08, 0.08)
            points.append((MARGIN + (x + off[0]) * SCALE, MARGIN + (y + off[1]) * SCALE))
        self.draw.line(points, fill=colour, width=9, joint="curve")

    def box(self, left: float, top: float, right: float, bottom: float) -> None:
        corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]
        for start, end in pairwise(corners):
            self.line(start, end, GRID)

    def mark(self, x: float, y: float, bib: str) -> None:
        """A ring for red, a cross for blue, a triangle for yellow: a pen that shows on white."""
        colour, r = PENS[bib], 0.7
        if bib == "red":
            at = MARGIN + x * SCALE, MARGIN + y * SCALE
            around = (at[0] - r * SCALE, at[1] - r * SCALE, at[0] + r * SCALE, at[1] + r * SCALE)
            self.draw.ellipse(around, outline=colour, width=9)
        elif bib == "blue":
            self.line((x - r, y - r), (x + r, y + r), colour)
            self.line((x - r, y + r), (x + r, y - r), colour)
        else:
            self.line((x - r, y + r), (x + r, y + r), colour)
            self.line((x + r, y + r), (x, y - r), colour)
            self.line((x, y - r), (x - r, y + r), colour)

    def arrow(self, start: tuple[float, float], end: tuple[float, float], colour: tuple[int, ...]) -> None:
        """A line that leaves the players free, with a head at its end."""
        long = max(((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5, 0.1)
        way = (end[0] - start[0]) / long, (end[1] - start[1]) / long
        first = start[0] + way[0] * 1.1, start[1] + way[1] * 1.1
        tip = end[0] - way[0] * 1.1, end[1] - way[1] * 1.1
        self.line(first, tip, colour)
        for side in (-0.5, 0.5):
            back = tip[0] - way[0] * 0.9 - way[1] * side, tip[1] - way[1] * 0.9 + way[0] * side
            self.line(tip, back, colour)
