"""Minutes: of parts, rounds and changeovers, to set up, and whether it is light."""

from drills.game.wording.shapes import entries
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "bouts_longer_than_part": _(
            "The rounds and rests take {over_min} min more than the part's {minutes} min."
        ),
        "bouts_shorter_than_part": _(
            "{spare_min} min of the part's {minutes} min are left over after the last round."
        ),
        "session_over_minutes": _(
            "Parts, changeovers and clearing take {over_min} min more than the {minutes} min there are."
        ),
        "session_spare_minutes": _("{spare_min} of {minutes} min to spare."),
        "set_up_too_short": _(
            "Setting up needs {set_up_min} min; the space is free only {free_min} min before the start."
        ),
        "changeover_too_short": _(
            "Setting up this part takes {need_min} min and the changeover has {there_min} min: {short_min} min short."
        ),
        "clear_changeover": _(
            "{minutes} min for the changeover would do, or a drill on the grid that is there already."
        ),
        "clear_over_minutes": _("{over_min} min off this part, or off the parts together, would do."),
        "clear_bouts": _("{minutes} min for the part, or shorter rounds, would do."),
        "clear_set_up_before": _(
            "{short_min} min less to set up would do: another first part, or more hands."
        ),
        # daylight
        "ends_after_dusk": _(
            "Ends {minutes} min after dusk ({dusk}) and {place} has no lights: end by {dusk}, or take a pitch with lights."
        ),
        "starts_after_dusk": _(
            "It is dark from {dusk} and {place} has no lights: play before {dusk}, or take a pitch with lights."
        ),
        "dark_all_day": _(
            "It does not get light that day and {place} has no lights: take a pitch with lights."
        ),
    }
)
