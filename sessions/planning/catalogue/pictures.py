"""Pictures of a session: titles, and descriptions for those who don't see them."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "section_title": CountedWording(
            "parts",
            *ngettext("{name}: {parts} part, {minutes} min.", "{name}: {parts} parts, {minutes} min."),
        ),
        "section_part": _("{number} {title}: {minutes} min, effort {effort}."),
        "section_link": _("To part {number}, {title}"),
        "section_changeovers": _("Changeovers: {minutes} min."),
        "section_over": _("Over the budget by {share:word} of it."),
    }
)
