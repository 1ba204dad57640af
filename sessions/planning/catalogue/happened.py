"""What was run, who came and what it cost, against what was planned."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "ran_by_word": _("Where nobody used the clock, the plan counts as what was run."),
        "ran_not": _("Not played."),
        "ran_skipped": _("Left out."),
        "ran_minutes": _("{minutes} min; {planned} planned."),
        "ran_rounds": _("{bouts} of {planned} rounds."),
        "ran_other": _("Played as {title}; planned as {planned}."),
        "ran_swapped": _("{title} was played instead of {planned}."),
        "ran_set_up": _("Set up for {players}: {numbers} on {length_m} × {width_m} m."),
        "ran_headers": _("{headers} headers a player; {planned} planned."),
        "came_otherwise": _("{came} came; {expected} were expected."),
        "took_minutes": _("It took {minutes} of {planned} min."),
        "helper_ran": _("A helper ran the clock, without an account."),
        "helper_counted": CountedWording(
            "count",
            *ngettext(
                "A helper counted {count} player, without names.",
                "A helper counted {count} players, without names.",
            ),
        ),
        "who_played": _("Minutes in play are those of the rounds as they were run."),
        "who_played_of_some": _(
            "Minutes in play are of part {known}. Who was in play in part {unknown} is not known: no turns were worked out, and its set-up does not say that everybody played."
        ),
        "who_played_unknown": _(
            "Who was in play is not known: no turns were worked out, and no set-up says that everybody played."
        ),
        "load_rated": _("Effort {cr10} × {minutes} min: {load_au} AU; {expected_au} were to be expected."),
        "load_estimated": _("Nobody rated it: counted as expected, {load_au} AU."),
        "set_aside": CountedWording(
            "count",
            *ngettext(
                "{count} thing was recorded for a part that has been removed since: saved, not counted.",
                "{count} things were recorded for parts that have been removed since: saved, not counted.",
            ),
        ),
        "not_understood": CountedWording(
            "count",
            *ngettext(
                "{count} thing that a phone sent is saved and not understood here.",
                "{count} things that phones sent are saved and not understood here.",
            ),
        ),
    }
)
