"""Every wording in which planning gives its reasons: to say something otherwise, change it here."""

from __future__ import annotations

from collections.abc import Mapping

from drills.game.wording.shapes import CountedWording, Wording, Wordings, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

# How large a share is, in words that are ours, a judgement: the fraction, then a little less, just so, a little more.
SHARES: tuple[tuple[float, str, str, str], ...] = (
    (1 / 10, _("nearly a tenth"), _("a tenth"), _("just over a tenth")),
    (1 / 5, _("nearly a fifth"), _("a fifth"), _("just over a fifth")),
    (1 / 4, _("nearly a quarter"), _("a quarter"), _("just over a quarter")),
    (1 / 3, _("nearly a third"), _("a third"), _("just over a third")),
    (1 / 2, _("nearly half"), _("half"), _("just over half")),
    (2 / 3, _("nearly two thirds"), _("two thirds"), _("just over two thirds")),
    (3 / 4, _("nearly three quarters"), _("three quarters"), _("just over three quarters")),
    (1.0, _("nearly all"), _("all"), _("all")),
)
LITTLE = _("a little")
ALL = _("all")
WEEK, MONTH = _("week"), _("month")

_REASONS: Wordings = {
    # minutes
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
    "clear_set_up_before": _("{short_min} min less to set up would do: another first part, or more hands."),
    # load and effort
    "load_over": _("{load_au} AU expected, {over_au} more than the {budget_au} AU for a session."),
    "effort_over": _("Effort {cr10} of 10 is above the {limit_cr10} that this age group plans at most."),
    "week_over": _("Heavy week: {share:word} over (figures in the detail)."),
    "week_over_double": _("Heavy week: more than twice what this team should do (figures in the detail)."),
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
    "heading_none": _("No heading in training at this age."),
    "heading_sessions_left": CountedWording(
        "left",
        *ngettext(
            "{left} session with heading left this {period:word}, {each} headers per player at most.",
            "{left} sessions with heading left this {period:word}, {each} headers per player at most.",
        ),
    ),
    "heading_used_up": _("No session with heading left this {period:word}."),
    "heading_headers_left": CountedWording(
        "left",
        *ngettext(
            "{left} header per player left this week.",
            "{left} headers per player left this week.",
        ),
    ),
    # daylight
    "ends_after_dusk": _(
        "Ends {minutes} min after dusk ({dusk}) and {place} has no lights: end by {dusk}, or take a pitch with lights."
    ),
    "starts_after_dusk": _(
        "It is dark from {dusk} and {place} has no lights: play before {dusk}, or take a pitch with lights."
    ),
    "dark_all_day": _("It does not get light that day and {place} has no lights: take a pitch with lights."),
    "clear_effort": _("{limit_cr10} of 10 would do: an easier variation, or longer rests."),
    # headers
    "clear_heading": _("Without heading it would do."),
    "clear_headers_less": _("{over} fewer would do."),
    "headers_none": _("Headers are planned ({planned}); the guideline for this age says none in training."),
    "headers_over": _(
        "{planned} headers per player are planned, {over} more than the guideline's {limit} in a session."
    ),
    "headers_week_over": _(
        "{planned} headers per player in the week, {over} more than the guideline's {limit}."
    ),
    "headers_sessions_over": _(
        "{planned} sessions with heading in the {period}; the guideline says {limit} at most."
    ),
    "headers_minutes_over": _(
        "{planned} min of heading in the week, {over} more than the guideline's {limit}."
    ),
    # people and kit
    "clear_adults_more": _("{more} more would do."),
    "clear_stations": _("{more} more, or as many stations fewer, would do."),
    "clear_kit": _("{short} more would do, or a set-up that needs fewer."),
    "adults_short": CountedWording(
        "there",
        *ngettext(
            "{players} players need {needed} adults; {there} is down for it.",
            "{players} players need {needed} adults; {there} are down for it.",
        ),
    ),
    "helpers_not_counted": CountedWording(
        "count",
        *ngettext(
            "{count} helper under 18 does not count as an adult.",
            "{count} helpers under 18 do not count as adults.",
        ),
    ),
    "parent_stopgap": _("A parent who stays is a stopgap for tonight: not vetted, so not counted."),
    "adult_under_18": _("{name} is not counted as an adult: not marked as 18 or over."),
    "adult_no_vetting": _("{name} is not counted as an adult: no vetting date is entered."),
    "adult_vetting_over": _("{name} is not counted as an adult: the vetting has run out by then."),
    "clear_staff_dates": _("The director enters it under Staff."),
    "keepers_no_second": _("The keepers work separately and no second adult is near."),
    "keepers_out_of_sight": _("The keepers work separately on {pitch}, out of sight of a second adult."),
    "clear_keepers_sight": _("Put them on the same pitch, or stand a second adult with the keepers."),
    "stations_short_of_adults": CountedWording(
        "there",
        *ngettext(
            "{stations} stations at the same time and {there} adult: one adult each is wanted.",
            "{stations} stations at the same time and {there} adults: one adult each is wanted.",
        ),
    ),
    "kit_short": _("{needed} × {kind} needed at the same time, {there} there: {short} short."),
    "kit_unknown": _("{needed} × {kind} needed; the club's kit list does not have it."),
    # the young
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
    # assembling a session: why a part is there
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
    # assembling a session: what stands in the way
    "clash_minutes": _("{given} min are there."),
    "clash_load": _("A load of {given} AU at most."),
    "clash_headers": CountedWording(
        "given",
        *ngettext(
            "At most {given} header per player is allowed.", "At most {given} headers per player are allowed."
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
    "clash_pin_gone": _("The drill of part {part_key} is not in the library any more, or not for this age."),
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
    # laying out
    "layout_fence_wide": _("Too close to the fence: make it {wide_m} m wide."),
    "layout_fence_long": _("Too close to the fence: make it {long_m} m long."),
    "layout_fence_both": _("Too close to the fence: make it {long_m} × {wide_m} m."),
    "layout_space_wide": _("Too big for your space: make it {wide_m} m wide."),
    "layout_space_long": _("Too big for your space: make it {long_m} m long."),
    "layout_space_both": _("Too big for your space: make it {long_m} × {wide_m} m."),
    "layout_no_room": _("Your space is too small for a grid: book more of it."),
    "layout_too_many": _("Room for {room_for} of {grids} grids: make them smaller, or use fewer at a time."),
    "layout_near_fence": _("The fence is {metres} m away: slow down at the edge."),
    "layout_behind_goal": CountedWording(
        "goals",
        *ngettext(
            "Not enough room behind {goals} goal: use the fence or a net, keep everyone clear.",
            "Not enough room behind {goals} goals: use the fence or a net, keep everyone clear.",
        ),
    ),
    "layout_no_place": _("No pitch is booked, so nothing can be laid out."),
    "layout_not_finished": _(
        "No layout found in time for these grids: make them smaller, or use fewer at a time."
    ),
    # taking a session along: to other players, another place, another week
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
    # what happened, against what was planned
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
    # several stations at once
    "carousel_uneven": _(
        "{bouts} rounds do not take the groups round {stations} stations evenly; {wanted} would."
    ),
    "stations_without_adult": CountedWording(
        "stations",
        *ngettext(
            "{stations} station has no adult of its own yet.",
            "{stations} stations have no adult of their own yet.",
        ),
    ),
    "adult_twice": _("{name} is down for {stations} stations at the same time."),
    # weather
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
    # rotation
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
    "pairs_not_found": _("No way was found in time to keep these pairs; that there is none is not proven."),
    "teams_do_not_fill": _("{teams} teams cannot fill {inside} places inside."),
    "waiting_uneven": CountedWording(
        "spread",
        *ngettext(
            "{bouts} rounds do not share out evenly: time off differs by {spread} round.",
            "{bouts} rounds do not share out evenly: time off differs by {spread} rounds.",
        ),
    ),
    "cycle": _("It comes out even after {cycle} rounds."),
    # pictures
    "section_title": CountedWording(
        "parts",
        *ngettext("{name}: {parts} part, {minutes} min.", "{name}: {parts} parts, {minutes} min."),
    ),
    "section_part": _("{number} {title}: {minutes} min, effort {effort}."),
    "section_link": _("To part {number}, {title}"),
    "section_changeovers": _("Changeovers: {minutes} min."),
    "section_over": _("Over the budget by {share:word} of it."),
}
CATALOGUE: Mapping[str, Wording] = entries(parts=_REASONS)
