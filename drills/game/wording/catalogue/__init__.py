"""Every wording that the library says to a coach, in one place: to say something otherwise, change it here.

One file for each area. Whoever says something names its key and gives its parts; keys that follow from a value of the
document end in that value's name.
"""

from __future__ import annotations

from collections.abc import Mapping

from drills.game.wording.catalogue import document, drawing, fit, validation
from drills.game.wording.shapes import Wording, entries, merged
from drills.game.wording.shapes import gettext_noop as _

# Words that all areas share: small numbers, lists, names for what has none, a coach's own words.
WORDS = entries(
    parts={
        "number_no": _("no"),
        "number_one": _("one"),
        "number_two": _("two"),
        "number_three": _("three"),
        "number_four": _("four"),
        "number_five": _("five"),
        "number_six": _("six"),
        "number_seven": _("seven"),
        "number_eight": _("eight"),
        "number_nine": _("nine"),
        "number_ten": _("ten"),
        "number_eleven": _("eleven"),
        "number_twelve": _("twelve"),
        "list": _("{first} and {last}"),
        "everyone": _("everyone"),
        "the_grid": _("the grid"),
        "gate_called": _("gate {name}"),
        "own_words": _("{text}"),
        "finished": _("{text:sentence}"),
        "unfinished": _("{text:clause}"),
        "one_after_another": _("{sentences:spaces}"),
    }
)

CATALOGUE: Mapping[str, Wording] = merged(
    WORDS,
    document.ENTRIES,
    fit.ENTRIES,
    validation.ENTRIES,
    drawing.ENTRIES,
)
