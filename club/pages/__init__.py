"""What the club's pages show, and what other rooms show of the club."""

from club.pages.ground import Sketch, ground_line, sketch
from club.pages.places import PitchShown, ZoneShown, edges_of, pitches_shown
from club.pages.safeguarding import (
    Guidance,
    StaffNeed,
    after_a_knock,
    date_needs,
    emergency_needs,
    unsaid_words,
)

__all__ = [
    "Guidance",
    "PitchShown",
    "Sketch",
    "StaffNeed",
    "ZoneShown",
    "after_a_knock",
    "date_needs",
    "edges_of",
    "emergency_needs",
    "ground_line",
    "pitches_shown",
    "sketch",
    "unsaid_words",
]
