"""Care for the young: organised hours, days of rest, match minutes."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "hours_over_age": _(
            "{hours} organised hours in the week: {over} more than the {limit} that are advised at this age."
        ),
        "rest_days_short": CountedWording(
            "rest_days",
            *ngettext(
                "{rest_days} day without training or match in the week; {wanted} are advised.",
                "{rest_days} days without training or match in the week; {wanted} are advised.",
            ),
        ),
        "match_minutes_over": _(
            "{day}: {minutes} match minutes for one player, {over} more than the {limit} that are advised for a day ({source})."
        ),
        "match_minutes_over_tournament": _(
            "{day}: {minutes} match minutes for one player, {over} more than the {limit} that are advised for a tournament day ({source})."
        ),
        "clear_match_minutes": _(
            "Share the matches over more players: each plays {over} min less. Minutes are counted as they were entered, for one player; who played how long is not known."
        ),
    }
)
