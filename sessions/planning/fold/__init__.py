"""What happened at the pitch: the state of a delivery from its append-only events."""

from sessions.planning.fold.bodies import KINDS
from sessions.planning.fold.events import Event, SessionLimits, body_of, event_problems, parse_event
from sessions.planning.fold.folding import fold
from sessions.planning.fold.state import (
    DeliveryState,
    PartState,
    RegisterLine,
    RegisterWord,
    counted_now,
    minutes_present,
    minutes_taking_part,
    playing_now,
)

__all__ = [
    "KINDS",
    "DeliveryState",
    "Event",
    "PartState",
    "RegisterLine",
    "RegisterWord",
    "SessionLimits",
    "body_of",
    "counted_now",
    "event_problems",
    "fold",
    "minutes_present",
    "minutes_taking_part",
    "parse_event",
    "playing_now",
]
