"""What stands at the edges of booked ground: for the lay-out, and in words."""

from collections.abc import Iterator, Sequence

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from club.pages import ground_line
from drills.game.evening import Piece
from sessions.planning.layout import Placed, Rectangle, Space
from sessions.planning.layout.ground import EDGES, Edge
from sessions.queries.spaces import Booked

ROUNDING_M = 0.05  # the lay-out works in decimetres


def space_of(piece: Piece) -> Space:
    """A piece for the lay-out: a fence stops balls, beyond open ground there is room; towards another group neither holds."""
    return Space(
        key=piece.key,
        length_m=piece.length_m,
        width_m=piece.width_m,
        stopped=piece.edges("fence"),
        open=piece.edges("open"),
    )


def towards_groups(placed: Placed, spaces: Sequence[Space]) -> int:
    """How many of a grid's goals have clear ground that reaches into another group's."""
    space = next(each for each in spaces if each.key == placed.space)
    return sum(
        1 for clear in placed.clear if set(_edges_beyond(clear, space)) - {*space.stopped, *space.open}
    )


def _edges_beyond(of: Rectangle, space: Space) -> Iterator[Edge]:
    """The edges of a space that a rectangle reaches over."""
    beyond: dict[Edge, float] = {
        "left": -of.x_m,
        "bottom": -of.y_m,
        "right": of.x_m + of.length_m - space.length_m,
        "top": of.y_m + of.width_m - space.width_m,
    }
    return (edge for edge, metres in beyond.items() if metres > ROUNDING_M)


def note_of(booked: Booked) -> str:
    """What is around the ground, its fixed goals and its lights, as one sentence."""
    piece = booked.piece
    line = ground_line(
        {edge: piece.at(edge) for edge in EDGES}, [(each.edge, each.size) for each in piece.goals]
    )
    if booked.has_lights:
        line = _("{ground}, with lights").format(ground=line)
    return f"{capfirst(line)}."
