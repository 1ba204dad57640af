"""A team's week: how heavy it is, and what would make it lighter."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "week_over": _("Heavy week: {share:word} over (figures in the detail)."),
        "week_over_double": _(
            "Heavy week: more than twice what this team should do (figures in the detail)."
        ),
        "week_minutes_over": _(
            "Heavy week: {minutes} min, {over} more than the {budget} min this age group plans."
        ),
        "clear_week_minutes": _("{over} min off a session, or a session left out, would do."),
        "week_heavier": _("Heavier than usual for this team."),
        "week_usual": _("A usual week for this team."),
        "week_lighter": _("Lighter than usual for this team."),
        "week_too_early": CountedWording(
            "more",
            *ngettext(
                "Too early to say what is usual for this team: {more} more week will tell.",
                "Too early to say what is usual for this team: {more} more weeks will tell.",
            ),
        ),
        "week_empty": _("Nothing on this week."),
        "trim_bouts": CountedWording(
            "count",
            *ngettext(
                "Drop {count} round of {title}: takes off {share:word} of that.",
                "Drop {count} rounds of {title}: takes off {share:word} of that.",
            ),
        ),
        "trim_rung": _("Run {title} in its next easier variation: takes off {share:word} of that."),
        "trim_shorter": _("Make {title} {minutes} min shorter: takes off {share:word} of that."),
        "trim_part": _("Finish without {title}: takes off {share:word} of that."),
        "trim_session": _("Leave out {title}: takes off {share:word} of that."),
        "trim_session_after_match": _(
            "Leave out {title}, the day after a match ({event}): takes off {share:word} of that."
        ),
        "trim_session_after_tournament": _(
            "Leave out {title}, the day after a tournament ({event}): takes off {share:word} of that."
        ),
        "trim_session_before_match": _(
            "Leave out {title}, the day before a match ({event}): takes off {share:word} of that."
        ),
        "trim_session_before_tournament": _(
            "Leave out {title}, the day before a tournament ({event}): takes off {share:word} of that."
        ),
        "trim_session_same_match": _(
            "Leave out {title}, on the day of a match ({event}): takes off {share:word} of that."
        ),
        "trim_session_same_tournament": _(
            "Leave out {title}, on the day of a tournament ({event}): takes off {share:word} of that."
        ),
        "trim_impossible": _(
            "All of that is not enough: {share:word} of what is over stays. Plan a lighter week next."
        ),
        "trim_nothing": _(
            "There is nothing left to drop: what makes this week heavy is over. Plan a lighter week next."
        ),
    }
)
