from drills.models.beside import AfterUse, KeptClose, ShareLink
from drills.models.drill import Drill, DrillQuerySet, DrillRevision, Variation, Word
from drills.models.rooms import Footprint, GridKit, RoomWithKit, SetUp

__all__ = [
    "AfterUse",
    "Drill",
    "DrillQuerySet",
    "DrillRevision",
    "Footprint",
    "GridKit",
    "KeptClose",
    "RoomWithKit",
    "SetUp",
    "ShareLink",
    "Variation",
    "Word",
]
