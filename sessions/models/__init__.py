from sessions.models.computation import Computation
from sessions.models.delivery import DeliveryEvent, LedgerEntry, Rating, Register
from sessions.models.orders import PartOrder
from sessions.models.plan import Part, SessionStaff, SessionZone, Station, TrainingSession
from sessions.models.slots import Slot
from sessions.models.turns import Turns
from sessions.models.weights import ProposalWeights

__all__ = [
    "Computation",
    "DeliveryEvent",
    "LedgerEntry",
    "Part",
    "PartOrder",
    "ProposalWeights",
    "Rating",
    "Register",
    "SessionStaff",
    "SessionZone",
    "Slot",
    "Station",
    "TrainingSession",
    "Turns",
]
