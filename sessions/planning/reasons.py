"""Reasons: why an answer is what it is, as data, with plain English words from one small catalogue.

A page translates the catalogue entry of a reason's code and fills in the same values, so page, API and
printed sheet say the same thing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Value = str | int | float

CATALOGUE: Mapping[str, str] = {
    # minutes
    "bouts_longer_than_part": "The bouts and rests take {over_min} min more than the part's {minutes} min.",
    "bouts_shorter_than_part": "{spare_min} min of the part's {minutes} min are left over after the last bout.",
    "session_over_minutes": "Parts, changeovers and clearing take {over_min} min more than the {minutes} min there are.",
    "session_spare_minutes": "{spare_min} of the {minutes} min are not used.",
    "set_up_too_short": "Setting up needs {set_up_min} min; the space is free only {free_min} min before the start.",
    "clear_over_minutes": "{over_min} min off this part, or off the parts together, would do.",
    "clear_bouts": "{minutes} min for the part, or shorter bouts, would do.",
    "clear_set_up_before": "{short_min} min less to set up would do: another first part, or more hands.",
    # load and effort
    "load_over": "{load_au} AU expected, {over_au} more than the {budget_au} AU for a session.",
    "effort_over": "Effort {cr10} of 10 is above the {limit_cr10} that this age group plans at most.",
    "week_over": "The week stands at {load_au} AU, {over_au} above the {budget_au} AU it may spend.",
    "trim_bouts": "{count} bouts off {title} take away {saving_au} AU.",
    "trim_rung": "{title} one rung easier takes away {saving_au} AU.",
    "trim_shorter": "{title} {minutes} min shorter takes away {saving_au} AU.",
    "trim_impossible": "The changes offered take away {saving_au} AU at most; {left_au} AU remain over.",
    "clear_effort": "{limit_cr10} of 10 would do: an easier rung, or longer rests.",
    # headers
    "clear_heading": "Without heading it stands.",
    "clear_headers_less": "{over} fewer would do.",
    "headers_none": "Headers are planned ({planned}); the guideline for this age says none in training.",
    "headers_over": "{planned} headers per player are planned, {over} more than the guideline's {limit} in a session.",
    "headers_week_over": "{planned} headers per player in the week, {over} more than the guideline's {limit}.",
    "headers_sessions_over": "{planned} sessions with heading in the {period}; the guideline says {limit} at most.",
    "headers_minutes_over": "{planned} min of heading in the week, {over} more than the guideline's {limit}.",
    # people and kit
    "clear_adults_more": "{more} more would do.",
    "clear_stations": "{more} more, or as many stations fewer, would do.",
    "clear_kit": "{short} more would do, or a set-up that needs fewer.",
    "adults_short": "{players} players need {needed} adults; {there} are down for it.",
    "helpers_not_counted": "{count} helpers under 18 do not count as adults.",
    "stations_short_of_adults": "{stations} stations at the same time and {there} adults: one adult each is wanted.",
    "kit_short": "{needed} × {kind} needed at the same time, {there} there: {short} short.",
    "kit_unknown": "{needed} × {kind} needed; the club's kit list does not have it.",
    # the young
    "hours_over_age": "{hours} organised hours in the week, {over} more than the {age} years of the youngest.",
    "rest_days_short": "{rest_days} days without training or match in the week; {wanted} are advised.",
    # assembling a session: why a part is there
    "part_pinned": "Kept, as you said.",
    "part_runs": "Runs with {players} players as {format} on {length_m} × {width_m} m.",
    "part_keepers": "Keepers apart: {players} of them play {title} as {format} on {length_m} × {width_m} m, with an adult of their own.",
    "part_theme": "{share} % of it is on tonight's theme.",
    "part_playing": "{share} % of the players are in play.",
    "part_cones_stay": "The cones of the part before stay where they are.",
    "part_one_rung_up": "Last week's drill, one rung up.",
    "part_same_rung": "Last week's drill again, so that it becomes familiar.",
    "part_rated": "{worked} of {tried} coaches who ran it noted that it worked.",
    "part_choice": "Chosen from {drills} drills that suit this part and run tonight.",
    "part_only_choice": "The only drill that suits this part and runs tonight.",
    # assembling a session: what stands in the way
    "clash_minutes": "{given} min are there.",
    "clash_load": "The session may cost {given} AU.",
    "clash_headers": "At most {given} headers per player are allowed.",
    "clash_set_up": "{given} min are there for setting up.",
    "clash_hardest": "No part may be harder than {given} of 10.",
    "clash_turn_out": "{given} players are there.",
    "clash_space": "{length_m} × {width_m} m are free.",
    "clash_adults": "{given} adults are down for it.",
    "clash_kit": "{given} × {kind} are there.",
    "clash_once": "No drill comes twice in a session.",
    "clash_banned": "Some drills are ruled out for tonight.",
    "clash_pin": "Part {part_key} is kept.",
    "clash_pin_gone": "What part {part_key} keeps is not in the library any more, or not for this age.",
    "clash_part": "Nothing in the library suits part {part_key} ({kind}) in {least_min} to {most_min} min.",
    "clear_minutes": "{enough} min would do.",
    "clear_load": "{enough} AU would do.",
    "clear_headers": "{enough} headers per player would be needed.",
    "clear_set_up": "{enough} min to set up would do.",
    "clear_alone": "Without this alone there is a session.",
    "not_finished": "The time was over before a session was found or ruled out.",
    "not_proven": "The best found so far; a better one would score at most {gap} % more.",
    "clash_part_keepers": "With the keepers at a station of their own nothing in the library suits part {part_key} ({kind}) in {least_min} to {most_min} min: no drill for so few keepers, or none for the others on the ground that is left.",
    # laying out
    "layout_too_tight": "{grids} grids do not fit on what is booked, even without run-off.",
    "layout_less_run_off": "{grids} grids do not fit with {run_off_m} m of run-off; {widest_m} m would do.",
    "layout_behind_goal": "{goals} goals in part {number} are shot at with less than {behind_m} m of booked ground behind: net, fence or wall there, and nobody behind.",
    "layout_no_place": "No pitch is booked, so nothing can be laid out.",
    "layout_not_finished": "The time was over before the grids were placed or proven not to fit.",
    # taking a session along: to other players, another place, another week
    "carry_minutes": "{title}: {minutes} min instead of {before_min}.",
    "carry_bouts": "{title}: {bouts} bouts instead of {before}, which keeps it inside {budget_au} AU.",
    "carry_setup": "{title}: {numbers} on {length_m} × {width_m} m, for {players} players.",
    "carry_place": "{title}: on {place}, where it fits best.",
    "carry_rung_fits": "{title}: on the rung “{rung}”, which runs with these players in this space.",
    "carry_rung_heading": "{title}: on the rung “{rung}”, without the heading.",
    "carry_rung_effort": "{title}: on the rung “{rung}”, since no part here may be harder than {limit_cr10} of 10.",
    "carry_rung_up": "{title}: one rung up, “{rung}”.",
    "carry_top_rung": "{title}: no rung above this one, so it is played as it was.",
    "carry_out_fits": "{title} is left out: it does not run with {players} players on {length_m} × {width_m} m.",
    "carry_out_heading": "{title} is left out: {planned} headers a player are planned, the guideline allows {limit}.",
    "carry_out_hall": "{title} is left out: it can't be played in a hall.",
    "carry_hall_changes": "{title} needs changes in a hall: look at it first.",
    "carry_age": "{title} is written for {low} to {high} years: look at it first.",
    "carry_effort": "{title}: effort {cr10} of 10, above the {limit_cr10} planned at most.",
    "carry_load": "{load_au} AU, still more than the {budget_au} AU there are.",
    # several stations at once
    "carousel_uneven": "{bouts} bouts do not take the groups round {stations} stations evenly; {wanted} would.",
    "stations_without_adult": "{stations} stations have no adult of their own yet.",
    "adult_twice": "{name} is down for {stations} stations at the same time.",
    # weather
    "heat_breaks": "About {wbgt_c} °C WBGT: {advice}.",
    "lightning_wait": "Thunder was last heard {minutes_ago} min ago: stay off for {minutes_left} min more.",
    # rotation
    "too_few_players": "{players} players are there in bout {bout}; the places need {places}.",
    "role_not_filled": "In bout {bout} nobody who may do it is left for {role}.",
    "pairs_impossible": "In bout {bout} these {pairs} pairs can't all be kept, whoever waits; with any one of them let go, the others can.",
    "pairs_not_found": "No way was found in time to keep these pairs; that there is none is not proven.",
    "teams_do_not_fill": "{teams} teams cannot fill {inside} places inside.",
    "waiting_uneven": "{bouts} bouts do not share out evenly: waiting differs by {spread} bouts.",
    "cycle": "It comes out even after {cycle} bouts.",
}

# Sentences that are said otherwise of one: the value that is counted, and how it is said then.
OF_ONE: Mapping[str, tuple[str, str]] = {
    "trim_bouts": ("count", "{count} bout off {title} takes away {saving_au} AU."),
    "adults_short": ("there", "{players} players need {needed} adults; {there} is down for it."),
    "helpers_not_counted": ("count", "{count} helper under 18 does not count as an adult."),
    "stations_short_of_adults": (
        "there",
        "{stations} stations at the same time and {there} adult: one adult each is wanted.",
    ),
    "rest_days_short": (
        "rest_days",
        "{rest_days} day without training or match in the week; {wanted} are advised.",
    ),
    "part_rated": ("tried", "{worked} of {tried} coach who ran it noted that it worked."),
    "clash_headers": ("given", "At most {given} header per player is allowed."),
    "clash_turn_out": ("given", "{given} player is there."),
    "clash_adults": ("given", "{given} adult is down for it."),
    "clear_headers": ("enough", "{enough} header per player would be needed."),
    "carry_bouts": (
        "bouts",
        "{title}: {bouts} bout instead of {before}, which keeps it inside {budget_au} AU.",
    ),
    "layout_too_tight": ("grids", "{grids} grid does not fit on what is booked, even without run-off."),
    "layout_less_run_off": (
        "grids",
        "{grids} grid does not fit with {run_off_m} m of run-off; {widest_m} m would do.",
    ),
    "layout_behind_goal": (
        "goals",
        "{goals} goal in part {number} is shot at with less than {behind_m} m of booked ground behind:"
        " net, fence or wall there, and nobody behind.",
    ),
    "stations_without_adult": ("stations", "{stations} station has no adult of its own yet."),
    "too_few_players": ("players", "{players} player is there in bout {bout}; the places need {places}."),
    "pairs_impossible": ("pairs", "In bout {bout} {pairs} pair can't be kept, whoever waits."),
    "waiting_uneven": (
        "spread",
        "{bouts} bouts do not share out evenly: waiting differs by {spread} bout.",
    ),
}


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason. `values` fill the catalogue's sentence; `part` names the part it stands beside.

    `clears` are further reasons, each of them a change that would clear this one (or help to).
    """

    code: str
    values: tuple[tuple[str, Value], ...] = ()
    part: str | None = None
    clears: tuple[Reason, ...] = ()

    def __post_init__(self) -> None:
        if self.code not in CATALOGUE:
            raise ValueError(f"code: no reason is called {self.code!r}")

    @property
    def text(self) -> str:
        """The sentence in plain English."""
        values = dict(self.values)
        name, of_one = OF_ONE.get(self.code, ("", ""))
        return (of_one if name and values.get(name) == 1 else CATALOGUE[self.code]).format(**values)

    @property
    def counted(self) -> int | None:
        """The number that decides between one and many; None for a sentence that is always the same."""
        name = OF_ONE[self.code][0] if self.code in OF_ONE else ""
        value = dict(self.values).get(name)
        return None if value is None else 1 if value == 1 else 2


def reason(code: str, part: str | None = None, clears: tuple[Reason, ...] = (), **values: Value) -> Reason:
    """A reason with its numbers rounded as people say them (whole, else one decimal)."""
    return Reason(code, tuple((name, spoken(value)) for name, value in values.items()), part, clears)


def spoken(value: Value) -> Value:
    """Round a number as it is said: 4.0 becomes 4, 4.04 becomes 4, 4.26 becomes 4.3."""
    if not isinstance(value, float):
        return value
    rounded = round(value, 1)
    return int(rounded) if rounded == int(rounded) else rounded
