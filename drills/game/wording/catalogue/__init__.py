"""Every wording that the library says to a coach, in one place: to say something otherwise, change it here.

One file for each area. Whoever says something names its key and gives its parts; keys that follow from a value of the
document end in that value's name.
"""

from __future__ import annotations

from collections.abc import Mapping

from drills.game.wording.catalogue import document, drawing, fit, validation, words
from drills.game.wording.shapes import Entry, merged

CATALOGUE: Mapping[str, Entry] = merged(
    words.ENTRIES,
    document.ENTRIES,
    fit.ENTRIES,
    validation.ENTRIES,
    drawing.ENTRIES,
)
