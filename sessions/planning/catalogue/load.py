"""Load and effort of a session, against what the age group plans."""

from drills.game.wording.shapes import entries
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "load_over": _("{load_au} AU expected, {over_au} more than the {budget_au} AU for a session."),
        "effort_over": _("Effort {cr10} of 10 is above the {limit_cr10} that this age group plans at most."),
        "clear_effort": _("{limit_cr10} of 10 would do: an easier variation, or longer rests."),
    }
)
