"""Using a session again: what changes for other players, another place, another week."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "carry_minutes": _("{title}: {minutes} min instead of {before_min}."),
        "carry_minutes_load": _(
            "{title}: {minutes} min instead of {before_min}, which keeps the load inside {budget_au} AU."
        ),
        "carry_round": _("{title}: rounds of {before} become {after}, for under {under}s."),
        "carry_round_adults": _("{title}: rounds of {before} become {after}, for adults."),
        "carry_round_fill": _("{title}: rounds of {before} become {after}, which fills its {minutes} min."),
        "carry_rest": _("{title}: rests of {before} become {after}."),
        "carry_rest_new": _("{title}: a rest of {after} between rounds."),
        "carry_bouts": CountedWording(
            "bouts",
            *ngettext(
                "{title}: {bouts} round instead of {before}.", "{title}: {bouts} rounds instead of {before}."
            ),
        ),
        "carry_setup": _(
            "{title}: {before} on {before_length_m} × {before_width_m} m becomes {numbers} on {length_m} × {width_m} m, for {players} players."
        ),
        "carry_off": _("{title}: {waiting} of {players} players are off in turn."),
        "carry_place": _("{title}: on {place}, where it fits best."),
        "carry_place_left": _("{title}: “{place}” is not on your space, so say again where it stands."),
        "carry_adult": _("{title}: choose again which adult is there."),
        "carry_newer": _("{title}: as the library has it now, since it was changed."),
        "carry_rung_gone": _(
            "{title}: as written, since the drill does not have the variation “{rung}” any more."
        ),
        "carry_rung_fits": _("{title}: the variation “{rung}”, which runs with these players in this space."),
        "carry_rung_heading": _("{title}: the variation “{rung}”, without the heading."),
        "carry_rung_effort": _(
            "{title}: the variation “{rung}”, since no part here may be harder than {limit_cr10} of 10."
        ),
        "carry_effort_now": _("{title}: effort {cr10} of 10 instead of {before_cr10}."),
        "carry_rung_up": _("{title}: one step harder, “{rung}”."),
        "carry_top_rung": _("{title}: nothing is harder than this variation, so it is played as it was."),
        "carry_out_fits": _(
            "{title} is left out: it does not run with {players} players on {length_m} × {width_m} m."
        ),
        "carry_out_players": _("{title} is left out: it does not run with {players} players."),
        "carry_out_heading": _(
            "{title} is left out: {planned} headers a player are planned, the guideline allows {limit}."
        ),
        "carry_out_hall": _("{title} is left out: it can't be played in a hall."),
        "carry_hall_changes": _("{title} needs changes in a hall: look at it first."),
        "carry_out_gone": _("{title} is left out: it is not in the library any more."),
        "carry_age": _("{title} is written for {ages}, not for under {under}s: look at it first."),
        "carry_age_adults": _("{title} is written for {ages}, not for adults: look at it first."),
        "carry_nearest": _("Instead of {title}, nearest to it and written for under {under}s: {drills}."),
        "carry_nearest_adults": _("Instead of {title}, nearest to it and written for adults: {drills}."),
        "carry_nearest_none": _("Instead of {title}: nothing like it in the library runs here for this age."),
        "carry_effort": _("{title}: effort {cr10} of 10, above the {limit_cr10} planned at most."),
        "carry_load": _("{load_au} AU, still more than the {budget_au} AU there are."),
    }
)
