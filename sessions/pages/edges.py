"""What stands at the edges of booked ground, in words."""

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from club.pages import ground_line
from drills.game.space import ALL_EDGES
from sessions.queries.spaces import Booked


def note_of(booked: Booked) -> str:
    """What is around the ground, its fixed goals and its lights, as one sentence."""
    piece = booked.piece
    line = ground_line(
        {edge: piece.at(edge) for edge in ALL_EDGES}, [(each.edge, each.size) for each in piece.goals]
    )
    if booked.has_lights:
        line = _("{ground}, with lights").format(ground=line)
    return f"{capfirst(line)}."
