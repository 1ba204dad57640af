"""What is wrong with a document, its numbers, its ladder or a file of drills."""

from drills.game.wording.shapes import Wordings, entries
from drills.game.wording.shapes import gettext_noop as _

PROBLEMS: Wordings = {
    "missing_say_this": _("Say this: up to three sentences that a helper can read out."),
    "missing_restarts": _("Say where the ball comes from after it goes out."),
    "missing_points": _("At least one coaching point."),
    "missing_questions": _("At least one coaching question, with what to listen for."),
    "most_below_least": _("The most can't be fewer than the least."),
    "group_against_format": _(
        "{format} has {players} for “{name}”, but the group has {count}: change the group, or change the format."
    ),
    "groups_against_format": _(
        "{format} has {players} for {names} together, but these groups have {count}: change one of them, or the format."
    ),
    "players_without_group": _(
        "{format} has {players} {slot}, but no group for them: add a group, or change the format."
    ),
    "group_without_players": _(
        "{format} has nobody {slot}, where “{name}” should play: change whom the group plays for, or the format."
    ),
    "group_without_side": _(
        "“{name}” has no side of its own in {format}: say which side the group plays for, or change the format."
    ),
    "format_beyond_numbers": _(
        "The drill is for {numbers}, but {format} is {players} players: change the format, or the numbers."
    ),
    "groups_beyond_numbers": _(
        "The drill is for {numbers}, but the groups only go from {low} to {high}: "
        "give a group a wider range, or change the numbers."
    ),
    "groups_all_fixed": _(
        "The drill is for {numbers}, but every group has a fixed number: fill in “at most” for at least one of them."
    ),
    "range_open": _("A range needs the fewest and the most players."),
    "range_reversed": _("The fewest can't be more than the most."),
    "ages_reversed": _("The second age is below the first: from U9 to U12, say."),
    "grid_too_large": _(
        "{length:size} × {width:size} m is larger than the largest pitch, {most_length:size} × {most_width:size} m."
    ),
    "grid_too_small": _(
        "{length:size} × {width:size} m is too small to play in: at least {least:size} × {least:size} m."
    ),
    "zone_without_area": _("The zone “{zone}” has no area."),
    "key_repeated": _("“{key}” is there {count} times; each needs a name of its own."),
    "bib_nobody_wears": _(
        "“{text}” speaks of {colour}, but nobody wears {colour}: name who is meant, or put what is called out in quotation marks."
    ),
    "bib_stays": _(
        "In “{text}” the word {colour} stays as it is when other bibs are worn: write “the {colour}” or “{colour}s”."
    ),
    "own_rule": _("A rule in your own words is shown, but nothing is computed from it."),
    "limit_needs_number": _("“{limit}” needs a number."),
    "at_most_none": _("At most 0 {limit}: then nobody can play the ball."),
    "fewest_beyond_players": _("At least {least:size} in a zone: the drill has {players} players."),
    "fewest_beyond_most": _("At least {least:size} in a zone where at most {most:size} may be."),
    "how_many_passes": _("How many passes?"),
    "how_many_seconds": _("How many seconds?"),
    "no_such_place": _("There is no zone or gate “{key}” in the drill."),
    "no_such_zone": _("There is no zone “{key}” in the drill."),
    "no_such_goal": _("There is no goal “{key}” in the drill."),
    "no_such_group": _("There is no group “{key}” in the drill."),
    "no_such_phase": _("There is no phase “{key}” in the drill."),
    "no_such_condition": _("There is no condition “{key}” in the drill."),
    "goals_missing": _("Goals are opened, but the drill has no goals."),
    "goals_open_already": _(
        "Goals are opened that are open from the start: say which goal is closed to start."
    ),
    "which_phase": _("Which phase starts?"),
    "phase_too_many": _("“{phase}” needs {players} players, the drill has {most}."),
}
VALIDATION_PARTS: Wordings = {
    "in_variation": _("In “{title}”: {text}"),
    "from_to": _("{least}–{most}"),
    "at_most": _("at most {n}"),
    "group_called": _("“{name}”"),
    "numbers_anyone": _("anyone"),
    "numbers_least": _("{n} players or more"),
    "numbers_most": _("at most {n} players"),
    "numbers_range": _("{least} to {most} players"),
    "side_A": _("first side"),
    "side_B": _("second side"),
    "side_C": _("third side"),
    "side_D": _("fourth side"),
    "slot_inside": _("on the {side}"),
    "slot_outside": _("outside on the {side}"),
    "slot_keeper": _("in goal on the {side}"),
    "slot_neutral": _("for whoever has the ball"),
}
# A variation that does not go with its drill any more, and a rung that may not be what it is called.
LADDER: Wordings = {
    "doubt_no_difference": _("“{title}” is called {wanted}, but nothing that can be measured is different."),
    "doubt_not_so": _("“{title}” is called {wanted}, but nothing that can be measured is {wanted}."),
    "doubt_other_way": _(
        "“{title}” is called {wanted}, but what can be measured is {other}: {moved:commas}."
    ),
}
LADDER_PARTS: Wordings = {
    "cannot_apply": _("“{title}” changes the {what} “{key}”, which is not in the drill"),
    "thing_condition": _("condition"),
    "thing_condition_twice": _("condition (it is there already)"),
    "thing_group": _("group"),
    "thing_goal": _("goal"),
    "thing_zone": _("zone"),
    "thing_gate": _("gate"),
    "thing_drawn": _("drawn item"),
    "way_harder": _("harder"),
    "way_easier": _("easier"),
    "moved_from_to": _("{what} {before:figures} → {after:figures}"),
    "any": _("any"),
    "measure_overload_in": _("overload of {phase}"),
    "measure_limit": _("{words:spaces}"),
    "measure_work": _("seconds of work in a row"),
    "measure_rest": _("seconds of rest"),
    "measure_goals": _("goals"),
    "measure_gates": _("gates"),
    "measure_headers": _("headers per player"),
    "measure_opponents": _("opponents"),
    "measure_overload": _("overload"),
    "measure_area": _("m² per player"),
    "measure_passes": _("passes in a row"),
    "measure_seconds": _("seconds to score"),
}
NOTATION: Wordings = {
    "count_too_large": _("{what}: {digits} is more than {most} players"),
    "count_nobody": _("{what}: 0 players is nobody; leave it out"),
    "count_of_side": _("side"),
    "count_of_outside": _("outside players"),
    "count_of_keepers": _("keepers"),
    "count_of_neutrals_inside": _("floaters inside"),
    "count_of_neutrals_outside": _("floaters outside"),
    "own_outside": _('"{term}": write a side\'s own outside players as 4(+2)'),
    "number_missing": _("a number is missing beside the v or the +; write for example 5v5+2"),
    "not_a_number": _('"{term}" is not a number of players; write for example 5v5+2 or GK+6v6+GK'),
    "addition_unclear": _(
        '"+{term}" is unclear; write +2 for floaters outside, +2in for floaters inside, +GK'
    ),
    "addition_missing": _(
        "a number is missing after the +; write +2 for floaters outside, +2in for floaters inside, +GK"
    ),
    "keeper_after_v": _("GK after a v is unclear; write GK+6v6+GK, or 6v(6+GK) for a keeper of one side"),
    "keeper_before_v": _("GK before a v is unclear; write GK+6v6+GK, or (6+GK)v6 for a keeper of one side"),
    "neutrals_at_end": _(
        "floaters stand at the end: write 5v5+2; a side's own outside players are 4(+2)v4(+2)"
    ),
    "numbers_missing": _("the numbers are missing; write for example 5v5+2"),
    "numbers_too_long": _("that is too long for one grid's numbers; write for example 5v5+2"),
    "bracket_open": _("a bracket is open; a side's own outside players are written 4(+2)v4(+2)"),
    "whose_keeper": _('whose keeper is it in "{text}"? Write GK+6v6+GK, GK+6v6, or 6v(6+GK)'),
    "too_many_sides": _("sides: at most {most} sides in one grid; write a second grid instead"),
    "too_many_players": _("players: {players} is more than {most}; write the numbers of one grid"),
    "group_empty": _("sides: a group needs at least one player"),
    "side_empty": _("sides: side {number} has nobody inside the grid"),
    "side_of_keepers": _("keepers: side {number} has {keepers} keepers; one goal has one keeper"),
}
FILES: Wordings = {
    "document_no_object": _("a drill document is an object with named fields"),
    "document_too_large": _("too large: at most {most} bytes"),
    "document_too_deep": _("nested deeper than {most} levels"),
    "document_no_number": _("must be an ordinary number"),
    "document_odd_character": _("holds a character that cannot be saved"),
    "file_too_deep": _("Nested deeper than {most} levels."),
    "file_no_json": _("Not readable as JSON: {why}"),
    "file_no_json_at": _("Not readable as JSON at byte {position}."),
    "file_odd_number": _("{name} is not a number that can be used here"),
    "file_too_many": _("At most {most} drills in one file."),
    "file_no_drills": _("This is no file of drills."),
    "file_drill_too_large": _("One drill is larger than {most} MB."),
}
ENTRIES = entries(
    wholes={**PROBLEMS, **LADDER},
    parts={**VALIDATION_PARTS, **LADDER_PARTS, **NOTATION, **FILES},
)
