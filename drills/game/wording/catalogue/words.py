"""Words that all areas share: small numbers, lists, names for what has none, a coach's own words."""

from drills.game.wording.shapes import entries
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
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
