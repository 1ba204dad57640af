"""Heat: what to do at each level, and how far the estimate can be trusted."""

from drills.game.wording.shapes import entries
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "heat_caution": _(
            "An estimate from temperature and humidity that assumes strong sun: without sun it errs high, at midday "
            "with little wind it can be 3 °C and more too low. Local rules and a measurement at the pitch come first."
        ),
        "heat_water": _("water as usual"),
        "heat_cooling_breaks": _("cooling breaks"),
        "heat_another_time": _("move it to another time"),
        "heat_breaks_of_3": _("three breaks of 3 min in every hour"),
        "heat_breaks_of_4": _("three breaks of 4 min in every hour"),
        "heat_two_hours": _("2 h at most, four breaks of 4 min in every hour"),
        "heat_one_hour": _("1 h at most, no conditioning, four breaks of 4 min in that hour"),
        "heat_no_training": _("no training"),
    }
)
