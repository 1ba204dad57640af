"""Suggested sessions: why a part is there, why there is no session, how good the answer is."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        # why a part is there
        "part_pinned": _("Stays, as you said."),
        "part_runs": _("Runs with {players} players as {format} on {length_m} × {width_m} m."),
        "part_keepers": _(
            "Keepers separate: {players} of them play {title} as {format} on {length_m} × {width_m} m, with an adult of their own."
        ),
        "part_theme": _("{share} % of it is on tonight's theme."),
        "part_playing": _("{share} % of the players are in play."),
        "part_cones_stay": _("The cones of the part before stay where they are."),
        "part_one_rung_up": _("Last week's drill, one step harder."),
        "part_same_rung": _("Last week's drill again, so that it becomes familiar."),
        "part_rated": CountedWording(
            "tried",
            *ngettext(
                "{worked} of {tried} coach who ran it noted that it worked.",
                "{worked} of {tried} coaches who ran it noted that it worked.",
            ),
        ),
        "part_choice": _("Chosen from {drills} drills that suit this part and run tonight."),
        "part_only_choice": _("The only drill that suits this part and runs tonight."),
        # what stands in the way, and what would clear it
        "clash_minutes": _("{given} min are there."),
        "clash_load": _("A load of {given} AU at most."),
        "clash_headers": CountedWording(
            "given",
            *ngettext(
                "At most {given} header per player is allowed.",
                "At most {given} headers per player are allowed.",
            ),
        ),
        "clash_set_up": _("{given} min are there for setting up."),
        "clash_hardest": _("No part may be harder than {given} of 10."),
        "clash_turn_out": CountedWording(
            "given", *ngettext("{given} player is there.", "{given} players are there.")
        ),
        "clash_space": _("{length_m} × {width_m} m are free."),
        "clash_adults": CountedWording(
            "given", *ngettext("{given} adult is down for it.", "{given} adults are down for it.")
        ),
        "clash_kit": _("{given} × {kind} are there."),
        "clash_once": _("No drill comes twice in a session."),
        "clash_banned": _("Some drills are ruled out for tonight."),
        "clash_in_play": _("Too many would wait: two thirds of the players are to be in play in every part."),
        "clash_in_play_part": _("{off} of {players} would wait in part {part_key}."),
        "clash_in_play_all": _("Over the whole session three quarters of the players are to be in play."),
        "clear_in_play": _("Another drill, a second station or more room would take them in."),
        "clear_in_play_kept": _("Set part {part_key} up for your {players}, or have it chosen again."),
        "clash_pin": _("Part {part_key} stays."),
        "clash_pin_gone": _(
            "The drill of part {part_key} is not in the library any more, or not for this age."
        ),
        "clash_part": _(
            "Nothing in the library suits part {part_key} ({kind}) in {least_min} to {most_min} min."
        ),
        "clear_minutes": _("{enough} min would do."),
        "clear_load": _("The lightest possible is {enough} AU: raise the limit, or shorten the session."),
        "clear_headers": CountedWording(
            "enough",
            *ngettext(
                "{enough} header per player would be needed.", "{enough} headers per player would be needed."
            ),
        ),
        "clear_set_up": _("{enough} min to set up would do."),
        "clear_alone": _("Without this alone there is a session."),
        "not_finished": _("The time was over before a session was found or ruled out."),
        "not_compared": _("The best found in the time there was; others may be better."),
        "not_proven": _("The best found so far; a better one would score at most {gap} % more."),
        "clash_part_keepers": _(
            "With the keepers at a station of their own nothing in the library suits part {part_key} ({kind}) in {least_min} to {most_min} min: no drill for so few keepers, or none for the others in the space that is left."
        ),
    }
)
