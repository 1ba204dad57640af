from drills.models.drill import Drill, DrillQuerySet, DrillRevision, Variation, Word
from drills.models.favourites import Favourite
from drills.models.links import ShareLink
from drills.models.notes import UseNote
from drills.models.rooms import Footprint, GridKit, RoomNeeded, RoomWithKit
from drills.models.sketches import Attachment, DrillSketch
from drills.models.video import Video

__all__ = [
    "Attachment",
    "Drill",
    "DrillQuerySet",
    "DrillRevision",
    "DrillSketch",
    "Favourite",
    "Footprint",
    "GridKit",
    "RoomNeeded",
    "RoomWithKit",
    "ShareLink",
    "UseNote",
    "Variation",
    "Video",
    "Word",
]
