"""Turns: groups that go round stations, who plays and who waits in each round."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        # stations that are run at once
        "carousel_uneven": _(
            "{bouts} rounds do not take the groups round {stations} stations evenly; {wanted} would."
        ),
        # who plays, who waits
        "too_few_players": CountedWording(
            "players",
            *ngettext(
                "{players} player is there in round {bout}; the places need {places}.",
                "{players} players are there in round {bout}; the places need {places}.",
            ),
        ),
        "role_not_filled": _("In round {bout} nobody who may do it is left for {role}."),
        "pairs_impossible": CountedWording(
            "pairs",
            *ngettext(
                "In round {bout} {pairs} pair can't be kept, whoever is off.",
                "In round {bout} these {pairs} pairs can't all be kept, whoever is off; drop any one of them and the others can.",
            ),
        ),
        "pairs_not_found": _(
            "No way was found in time to keep these pairs; that there is none is not proven."
        ),
        "teams_do_not_fill": _("{teams} teams cannot fill {inside} places inside."),
        "waiting_uneven": CountedWording(
            "spread",
            *ngettext(
                "{bouts} rounds do not share out evenly: time off differs by {spread} round.",
                "{bouts} rounds do not share out evenly: time off differs by {spread} rounds.",
            ),
        ),
        "cycle": _("It comes out even after {cycle} rounds."),
    }
)
