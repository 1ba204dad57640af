"""The plan in words, its legend, what a text claims of it, and what is wrong or odd about it."""

from drills.game.wording.shapes import CountedWording, Wordings, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

PLAN: Wordings = {
    "plan_plan": _("Plan of a {length:tenth} × {width:tenth} m grid"),
    "plan_plan_of": _("{title}: plan of a {length:tenth} × {width:tenth} m grid"),
    "plan_grid": _(
        "The grid is {length:tenth} m long and {width:tenth} m wide, the length from left to right."
    ),
    "plan_group": _("{count} {name} {place}."),
    "plan_zone": _(
        "{title}: {length:tenth} × {width:tenth} m, from {x:tenth} m to {x_end:tenth} m along the length."
    ),
    "plan_goal_edge": _("A goal {wide:tenth} m wide on the {edge:word} edge{shut}."),
    "plan_goal_free": _("A goal {wide:tenth} m wide inside, open to the {edge:word}{shut}."),
    "plan_shut": _(", closed to start"),
    "plan_gates": CountedWording(
        "count", *ngettext("One gate to go through.", "{count} gates to go through.")
    ),
    "plan_ball_with": _("The ball is with {name}."),
    "plan_balls_each": _("{count} players have a ball each."),
    "plan_supply": CountedWording(
        "count", *ngettext("A ball lies on the ground.", "{count} balls lie ready.")
    ),
    "plan_coach_inside": _("The coach stands inside the grid."),
    "plan_coach_outside": _("The coach stands outside the grid."),
    "plan_step": _("Step {number}: {sentences:spaces}"),
    "plan_step_titled": _("Step {number}, {title}: {sentences:spaces}"),
    "plan_somebody": _("somebody"),
    "plan_on_ball": _("whoever is on the ball"),
    "plan_no_title": _("Zone"),
    "place_inside": _("inside"),
    "place_outside": _("outside"),
    "place_zone": _("in a zone"),
    "place_queue": _("waiting in a queue"),
    "place_goal": _("in goal"),
    "direction_right": _("to the right"),
    "direction_up_right": _("up and to the right"),
    "direction_up": _("up"),
    "direction_up_left": _("up and to the left"),
    "direction_left": _("to the left"),
    "direction_down_left": _("down and to the left"),
    "direction_down": _("down"),
    "direction_down_right": _("down and to the right"),
}
MOVES: Wordings = {
    "plan_runs": _("{name} runs {metres:whole} m {way}."),
    "plan_carries": _("{name} runs with the ball {metres:whole} m {way}."),
    "plan_passes": _("{name} passes to {receiver}."),
    "plan_lifts": _("{name} plays it through the air to {receiver}."),
    "plan_lifts_far": _("{name} plays it through the air {metres:whole} m {way}."),
    "plan_shoots": _("{name} shoots at the goal on the {edge:word} edge."),
    "plan_shoots_free": _("{name} shoots at the goal."),
    "plan_plays": _("{name} plays the ball {metres:whole} m {way}."),
}
LANES: Wordings = {
    "plan_lane_open": _("Pass to {name}: open, {receiver}."),
    "plan_lane_shut": _("Pass to {name}: closed by {who}."),
}
RECEIVERS: Wordings = {
    "receiver_closed_down": _("closed down on arrival by {who}"),
    "receiver_pressed": _("pressed at once by {who}"),
    "receiver_has_time": _("has time"),
}
NAMES: Wordings = {
    "called_adult": _("adult"),
    "called_keeper": _("keeper"),
    "called_keeper_in": _("{bib:word} keeper"),
    "called_neutral": _("floater"),
    "called_neutral_in": _("{bib:word}, floater"),
    "called_one_neutral_in": _("{bib:word} floater"),
    "called_bib": _("{bib:word}"),
    "called_side": _("side {side}"),
    "called_with_number": _("{name} {number}"),
    "called_with_role": _("{name} ({role:word})"),
}
CLAIMS: Wordings = {
    "claim_third_player_finishes": _("A third player finishes"),
    "claim_everyone_touches_it": _("Everyone of the side touches it"),
    "claim_switch_of_side": _("The ball is switched from one side to the other"),
    "claim_through_a_gate": _("The ball goes through a gate"),
    "claim_into_a_zone": _("The ball comes into the zone"),
    "claim_passes": _("At least {number} passes"),
    "claim_goal": _("A goal"),
    "claim_lane_is_open": _("From {who} the pass to {to} is open"),
    "claim_lane_is_shut": _("From {who} the pass to {to} is closed"),
    "claimed_in_step": _("{claim} (step {number})"),
    "unclear_gate": _("which gate"),
    "unclear_zone": _("which zone"),
    "unclear_number": _("how many"),
    "unclear_receiver": _("to whom"),
}
LEGEND: Wordings = {
    "legend_ball": _("ball"),
    "legend_high": _("ball in the air"),
    "legend_run": _("run"),
    "legend_carry": _("run with ball"),
    "legend_open_lane": _("open lane"),
    "legend_shut_lane": _("closed lane"),
    "legend_goal": _("goal {width}"),
    "legend_shut_goal": _("goal {width}, closed to start"),
    "legend_gate": _("gate {width}"),
    "legend_cone": _("cone"),
    "legend_zone": _("zone"),
    "legend_ghost": _("where they start"),
    "legend_step": _("step"),
    "legend_seconds": _("seconds to spare"),
    "legend_coach": _("Coach"),
    "length_m": _("{n:tenth} m"),
    "length_yd": _("{n:tenth} yd"),
    "length_paces": _("{n} paces"),
}
CHECKS: Wordings = {
    "check_numbers": _("The format has {wanted} {group}, the plan shows {shown}."),
    "check_not_inside": _("{who} plays inside but stands outside the grid."),
    "check_not_outside": _("{who} plays outside but stands inside the grid."),
    "check_wrong_edge": _("{who} belongs on the {edge} edge but stands elsewhere."),
    "check_far_out": _("{who} stands {metres} m from the grid, too far to take part."),
    "check_not_in_zone": _("{who} starts outside the zone {zone}."),
    "check_on_top": _("{who} and {other} stand on the same spot{when}."),
    "check_goal_off_edge": _("The goal {goal} reaches beyond its edge."),
    "check_two_places": _("{who} would have to be in two places at {time} s."),
    "check_ball_twice": _("The ball {ball} is played at {time} s while it is still on its way."),
    "check_not_holding": _("{who} runs with the ball {ball} at {time} s but does not have it."),
    "check_nobody_plays": _("Nobody is where the ball {ball} is played at {time} s."),
    "check_nobody_there": _("Nobody is where the ball {ball} arrives at {time} s."),
    "check_too_fast": _("{who} would have to run {speed} m/s; {cap} m/s is the most for this age."),
    "check_ball_too_fast": _("The ball {ball} would have to travel {speed} m/s; {cap} m/s is the most."),
    "check_shut_goal": _("The shot at {time} s goes to the goal {goal}, which is drawn closed."),
    "check_cut_out": _("{who}'s pass to {receiver} at {time} s would be cut out by {defender}."),
    "check_claim": _("The text says “{claim}”, but the moves do not show it."),
    "check_claim_unclear": _(
        "The text says “{claim}”, but does not say {missing:word}, so it can't be checked."
    ),
    "check_left_out_moves": _("{who} is not there with these numbers; moves left out: {count}."),
    "check_left_out_ball": _(
        "From step {number} on a ball is not played as drawn: who or what it needs is not there."
    ),
    "check_left_out_step": _("Step {number} is left out: nothing of it remains."),
    "check_left_out_claim": _("With these numbers the moves no longer show “{claim}”."),
    "check_no_moves_yet": _("{who}: nobody drew them. They stand at the start and have no moves."),
    "check_start_only": _(
        "The drawn moves do not go with these numbers on this grid ({why}): only a start is shown."
    ),
}
CHECK_PARTS: Wordings = {
    "group_of_side_inside": _("of side {side} inside"),
    "group_of_side_outside": _("of side {side} outside"),
    "group_of_keepers": _("keepers of side {side}"),
    "group_of_neutrals_inside": _("floaters inside"),
    "group_of_neutrals_outside": _("floaters outside"),
    "after_step": _(" after step {number}"),
    "who_else": _("{names:commas}"),
    "moves_too_long": _("the moves would last longer than {most} s"),
}
ENTRIES = entries(
    wholes={**MOVES, **LANES, **CHECKS},
    parts={**PLAN, **RECEIVERS, **NAMES, **CLAIMS, **LEGEND, **CHECK_PARTS},
)
