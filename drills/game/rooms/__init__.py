"""The smallest free rectangles that a drill can be run in, for every turn-out: what a library search looks up.

`fit` asks "does it work here?"; this answers for all rectangles at once. How much room numbers take depends on how many
are inside and whether anyone stands outside alone, so the smallest places are listed, not searched, and what one turn-out
needs is put together from what every share of it needs. What ages and adults allow is told apart by classes of evenings.
"""

from drills.game.rooms.classes import (
    ANY_NUMBER,
    CLASSES,
    ENGINE_VERSION,
    MISSING,
    MOST_KEEPERS,
    class_bit,
    keepers_bit,
    keepers_that_matter,
)
from drills.game.rooms.places import ShareNeeds
from drills.game.rooms.table import (
    Rooms,
    RoomsWithKit,
    either,
    fingerprint,
    fingerprint_of_either,
    rooms,
    rooms_with_kit,
)

__all__ = [
    "ANY_NUMBER",
    "CLASSES",
    "ENGINE_VERSION",
    "MISSING",
    "MOST_KEEPERS",
    "Rooms",
    "RoomsWithKit",
    "ShareNeeds",
    "class_bit",
    "either",
    "fingerprint",
    "fingerprint_of_either",
    "keepers_bit",
    "keepers_that_matter",
    "rooms",
    "rooms_with_kit",
]
