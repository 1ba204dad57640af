"""What the club's pages show, and what other rooms show of the club."""

from club.pages.ground import Sketch, ground_line, sketch
from club.pages.places import PitchShown, ZoneShown, edges_of, pitches_shown

__all__ = ["PitchShown", "Sketch", "ZoneShown", "edges_of", "ground_line", "pitches_shown", "sketch"]
