from sessions.models.calendar import CalendarLink, CalendarMark, ClosedDays, Fixture
from sessions.models.delivery import DeliveryEvent, LedgerEntry, Rating, Register
from sessions.models.links import SessionLink
from sessions.models.plan import (
    Part,
    PartOrder,
    PartOrderDrill,
    SessionStaff,
    SessionZone,
    Slot,
    Station,
    Together,
    TrainingSession,
    Turns,
)
from sessions.models.proposals import Computation, ProposalWeights

__all__ = [
    "CalendarLink",
    "CalendarMark",
    "ClosedDays",
    "Computation",
    "DeliveryEvent",
    "Fixture",
    "LedgerEntry",
    "Part",
    "PartOrder",
    "PartOrderDrill",
    "ProposalWeights",
    "Rating",
    "Register",
    "SessionLink",
    "SessionStaff",
    "SessionZone",
    "Slot",
    "Station",
    "Together",
    "TrainingSession",
    "Turns",
]
