"""What a set-up for tonight changes, what to watch, how players change places, and why none is possible."""

from drills.game.wording.shapes import CountedWording, Wordings, entries, merged, ngettext
from drills.game.wording.shapes import gettext_noop as _

EVENINGS: Wordings = {
    "setup_unknown_schema": _(
        "This set-up was written by another version (schema {schema}): set the drill up again."
    ),
    "evening_unknown_schema": _(
        "This set-up was saved by another version (schema {schema}): set the drill up again."
    ),
}

CHANGES: Wordings = {
    "as_planned": _("As planned."),
    "split_alike": _("{grids:words} grids of {format} side by side."),
    "split_unlike": _("{grids:words} grids side by side: {formats}."),
    "numbers_changed": _("{changes}."),
    "numbers_changed_in": _("{format}: {changes}."),
    "wait_in_queue": CountedWording(
        "waiting",
        *ngettext(
            "{waiting:words} player waits for the next go.", "{waiting:words} players wait for the next go."
        ),
    ),
    "rest_in_turn": CountedWording(
        "waiting",
        *ngettext(
            "One is off in turn: change after every round.",
            "{waiting:words} are off in turn: change after every round.",
        ),
    ),
    "adult_inside": _("An adult joins inside as a floater, never tackling."),
    "adult_outside": _("An adult joins outside as a floater, never tackling."),
    "keepers_play_out": _("No goals here: keepers play out, best outside the grid with their feet."),
    "keepers_serve": CountedWording(
        "keepers",
        *ngettext(
            "{keepers:words} keeper serves the balls in turn.",
            "{keepers:words} keepers serve the balls in turn.",
        ),
    ),
    "keepers_rotate": _("Everyone has a turn in goal: change after every round."),
    "others_elsewhere": CountedWording(
        "others",
        *ngettext(
            "{others:words} player who does not keep goal: give them another station.",
            "{others:words} players who do not keep goal: give them another station.",
        ),
    ),
    "no_keeper_goal_empty": CountedWording(
        "goals",
        *ngettext(
            "No keeper: the goal stays empty, so corners and low balls count.",
            "No keeper: a goal stays empty, so corners and low balls count.",
        ),
    ),
    "few_keepers_goal_empty": CountedWording(
        "kept",
        *ngettext(
            "Only {kept:words} keeper for {goals:words} goals: a goal stays empty, so corners and low balls count.",
            "Only {kept:words} keepers for {goals:words} goals: a goal stays empty, so corners and low balls count.",
        ),
    ),
    "no_keeper": CountedWording(
        "goals",
        *ngettext(
            "No keeper: {instead} instead of the goal.",
            "No keeper: {instead} instead of the goals.",
        ),
    ),
    "goal_kept": _("One keeper: one goal is kept, {instead} at the other end."),
    "goals_kept": CountedWording(
        "kept",
        *ngettext(
            "{kept:words} keeper: {kept:words} goal is kept, {instead} for the rest.",
            "{kept:words} keepers: {kept:words} goals are kept, {instead} for the rest.",
        ),
    ),
    "grid_changed": _("{grid}."),
    "grid_changed_in": _("{format}: {grid}."),
    # what to watch
    "ask_parent": _(
        "{grids} and {adults}: ask a parent to stay (a stopgap, not a counted adult), and stand between the grids."
    ),
    "near_fence": _("The fence is {run_off} m away: slow down at the edge."),
    "near_others": _("Another group is {run_off} m away: keep the ball on your side."),
    "few_adults": _("{grids} and {adults}: stand where you see them all."),
    "narrow_strip": _("Only {strip:tenth} m beside the grid for those outside; 2 m is better."),
}
REFUSALS: Wordings = {
    "too_young": _("This is for U{least} and older."),
    "too_old": _("This is for U{most} and younger."),
    "too_few": _("Too few: this needs at least {least} players, and {players} came."),
    "adults_for_grids": _("Too few adults: {grids} would do, one adult for every two."),
    "would_wait": CountedWording(
        "off",
        *ngettext(
            "{off} of {players} would wait: another grid, another station or another drill takes that one in.",
            "{off} of {players} would wait: another grid, another station or another drill takes them in.",
        ),
    ),
    "no_such_numbers": _("{players} players make no game like {format}."),
    "no_single_grid": _("Too little space: {players} players need more than one grid."),
    "too_little_space": _("Too little space: {format} needs about {length:size} × {width:size} m free."),
    "too_little_kit": _("Too little kit: {kit}."),
}
# why a set-up that was kept is not one for this evening
STALE: Wordings = {
    "other_numbers": CountedWording(
        "now",
        *ngettext("Set up for {then}, and there is one now.", "Set up for {then}, and there are {now} now."),
    ),
    "other_keepers": _("Set up with {then} to keep goal: now it would be {now}."),
    "sides_over_age": _("Sides of {side:words}: these players' matches have at most {most:words} a side."),
    "not_the_drills": _("The drill has been changed: it is not played as {format} any more."),
    "grid_over_match": _("The grid is larger than their matches: at most {most:whole} m² for each player."),
    "adults_gone": _("Too few adults: {grids} need one for every two, and tonight has {adults}."),
    "adult_cannot_play": _("An adult plays along, and tonight has {adults}: nobody is left to coach."),
    "other_ground": _("Set up on {then}, and tonight is on {now}."),
    "other_ground_typed": _("Set up on {then}, and tonight is somewhere else."),
    "ground_too_small": _(
        "Too little space: {numbers} takes {length:size} × {width:size} m with room around it, "
        "and tonight has {free_length:size} × {free_width:size} m."
    ),
    "edge_nearer": _("Only {now:tenth} m to the edge of your space, and it was set up with {then:tenth} m."),
    "other_rung": _("Set up as another variation than the one that is played now."),
}
PARTS: Wordings = {
    "grids": CountedWording("n", *ngettext("{n:words} grid", "{n:words} grids")),
    "grids_alike": _("{grids} × {format}"),
    "grids_beside": _("{first} and {last}"),
    "adults": CountedWording("n", *ngettext("{n:words} adult", "{n:words} adults")),
    "more": _("{n:words} more"),
    "fewer": _("{n:words} fewer"),
    "in_group": _("{change} in the group"),
    "on_each_side": _("{change} on each side"),
    "on_first_side": _("{change} on the first side"),
    "on_second_side": _("{change} on the second side"),
    "one_side_up": _("so one side is a player up"),
    "one_by_one": _("{each:commas}"),
    "sides_of": _("sides of {sides:words}"),
    "outside_each_side": _("{change} outside for each side"),
    "more_outside": _("{change} outside"),
    "more_inside": _("{change} inside"),
    "no_neutral_inside": _("no floater inside"),
    "no_neutral_outside": _("no floater outside"),
    "neutral_inside": CountedWording(
        "n",
        *ngettext(
            "{n:words} floater inside, with whoever has the ball",
            "{n:words} floaters inside, with whoever has the ball",
        ),
    ),
    "neutral_outside": CountedWording(
        "n",
        *ngettext(
            "{n:words} floater outside, with whoever has the ball",
            "{n:words} floaters outside, with whoever has the ball",
        ),
    ),
    "instead_small_goal": CountedWording("n", *ngettext("a small goal", "small goals")),
    "instead_end_zone": CountedWording("n", *ngettext("an end zone to pass into", "end zones to pass into")),
    "grid_now": _(
        "grid {length:size} × {width:size} m instead of {planned_length:size} × {planned_width:size} m"
    ),
    "grid_and_room": _("{grid}: {room}"),
    "room_same": _("the same room for each {who}"),
    "room_differs": _("{change}, {area:whole} instead of {planned:whole} m² for each {who}"),
    "room_a_little_tighter": _("a little tighter"),
    "room_tighter": _("tighter"),
    "room_much_tighter": _("much tighter"),
    "room_a_little_wider": _("a little wider"),
    "room_wider": _("wider"),
    "room_much_wider": _("much wider"),
    "each_player": _("player"),
    "each_player_inside": _("player inside"),
    "kit_short": _("{kind} ({count} more)"),
}
# --- how players change places ---

TURNS: Wordings = {
    "join_queue": _("Join the queue after each go."),
    "inside_and_outside": _("Inside and outside change places within each side after every round."),
    "neutrals_in_turn": CountedWording(
        "neutrals",
        *ngettext(
            "{neutrals:words} floater in turn: change after every round.",
            "{neutrals:words} floaters in turn: change after every round.",
        ),
    ),
    "neutrals_and_resting": CountedWording(
        "neutrals",
        *ngettext(
            "{neutrals:words} floater and {waiting:words} off in turn: change after every round.",
            "{neutrals:words} floaters and {waiting:words} off in turn: change after every round.",
        ),
    ),
    "whole_teams": _("{who}: {shares:commas}; change after every round."),
    "loan_in": _(
        "Teams of {teams:words}: change after every round; when the {neutrals:words} come in, "
        "one of those going out stays in with them on loan."
    ),
    "loan_out": _(
        "Teams of {teams:words}: change after every round; when the {neutrals:words} come in, "
        "one of them stays outside on loan."
    ),
    "side_up_changes": _("The side that is a player up changes after every round."),
    "roles_change": _("Change roles after every round, so that everyone has each of them."),
}
TURNING: Wordings = {
    "turns_in": _("{format}: {turns}"),
    "teams_of": _("{teams:words} teams of {players:words}"),
    "players": CountedWording("n", *ngettext("{n:words} player", "{n:words} players")),
    "play": _("{n:words} play"),
    "are_neutral": CountedWording("n", *ngettext("{n:words} is a floater", "{n:words} are floaters")),
    "rest": CountedWording("n", *ngettext("{n:words} rests", "{n:words} rest")),
}

# What each term of the distance counts, in the order of `drills.game.fit.weights.DistanceWeights`.
TERMS: Wordings = {
    "term_waiting": _("Share of the players who are off beyond what the drill plans: nobody came to watch."),
    "term_overload": _(
        "The overload against the drill's, half and double equally far: it keeps the problem that is set."
    ),
    "term_numbers": _("Players inside one grid against the drill's: it keeps touches for each player."),
    "term_uneven": _("For each player by which the sides' difference differs from the drill's."),
    "term_space": _("Area for each player that counts, and a fifth of that for the shape of the grid."),
    "term_neutrals": _(
        "For each kind of helper that appears or vanishes: inside, outside, a side's own outside."
    ),
    "term_outside": _("For each player of a side's own outside, more or fewer."),
    "term_margin": _("The square of the metres by which the run-off is less than wished, along and across."),
    "term_keepers": _("For each goal of one grid that has no keeper tonight."),
    "term_adult": _("An adult plays instead of coaching."),
    "term_grids": _("For each grid beyond the first: another pair of eyes is needed."),
    "term_apart": _("How unlike several grids are in their players."),
    "term_unlike": _("Several grids that play games of unlike kinds: helpers in one, none in another."),
    "term_rotation": _("Whole teams can no longer take turns."),
}

ENTRIES = merged(
    entries(wholes={**EVENINGS, **CHANGES, **REFUSALS, **STALE, **TERMS}, parts=PARTS),
    entries(wholes=TURNS, parts=TURNING),
)
