"""A session fitted anew: numbers, minutes, budget, heading, a hall; and the ladder one rung up."""

from dataclasses import replace
from typing import Any

import pytest

from club.ages import Ages
from drills.game.document import DrillDocument
from drills.game.evening import Evening, Piece, players_of, typed_ground
from drills.game.format import Format
from sessions.planning.refit import PlayedStation, StationToReuse, Target, carry, one_up
from tests.drills.samples import harbour

GROUND = Piece("", 40, 30)
TARGET = Target(Evening(12, adults=1, pieces=(GROUND,)), minutes=75)


def at(target: Target, **changes: Any) -> Target:
    """The same target on another evening."""
    return replace(target, evening=replace(target.evening, **changes))


def rung(key: str, way: str, **change: Any) -> dict[str, Any]:
    changes = [{"type": "set_format", "format": change["format"]}] if "format" in change else []
    if "heading" in change:
        changes.append({"type": "set_heading", "heading": change["heading"], "headers_per_player": 0})
    if "effort" in change:
        work = {"minutes": 15, "bouts": 4, "bout_s": 180, "rest_s": 45, "effort": change["effort"]}
        changes.append({"type": "set_work", "work": work})
    return {"key": key, "title": key.title(), "rung": way, "changes": changes}


def drill(**changes: Any) -> DrillDocument:
    rungs = [
        rung("two-fewer", "easier", format="4v2+4"),
        rung("calm", "easier", effort=3.0),
        rung("wild", "harder", format="5v5+2"),
    ]
    return harbour(changes.pop("variations", rungs), **changes)


def part(document: DrillDocument | None = None, key: str = "a", **changes: Any) -> StationToReuse:
    given: dict[str, Any] = {
        "key": key,
        "part": key,
        "title": document.title if document else "Arrival",
        "document": document,
        "variation_key": "",
        "minutes": 18,
        "bouts": 4,
        "bout_s": 240,
        "rest_s": 40,
        "changeover_s": 0,
        "cr10": 5.0,
    }
    return StationToReuse(**{**given, **changes})


def codes(found: Any) -> list[str]:
    return [each.code for part in found for each in part.changes]


def test_the_same_place_and_numbers_change_nothing() -> None:
    found = carry([part(drill())], TARGET)
    assert codes(found) == []
    assert (found[0].minutes, found[0].bouts, found[0].stations[0].variation_key) == (18, 4, "")
    assert found[0].stations[0].setup is not None
    assert str(found[0].stations[0].setup.format) == "4v4+4"


def test_other_numbers_are_fitted_and_said() -> None:
    found = carry([part(drill())], at(TARGET, players=15))
    assert codes(found) == ["carry_setup"]
    assert found[0].stations[0].setup is not None
    assert found[0].stations[0].setup.players_total == 15


def test_a_shorter_evening_shares_its_minutes_out() -> None:
    found = carry([part(drill(), "a"), part(drill(), "b", minutes=36, bouts=8)], replace(TARGET, minutes=41))
    assert [each.minutes for each in found] == [12, 24]
    assert [(each.bouts, each.bout_s, each.rest_s) for each in found] == [(3, 210, 30), (5, 240, 60)]
    assert [each.text for each in found[0].changes] == [
        "Harbour: 12 min instead of 18.",
        "Harbour: rounds of 4 min become 3½ min, which fills its 12 min.",
        "Harbour: rests of 40 s become 30 s.",
        "Harbour: 3 rounds instead of 4.",
    ]


def test_the_budget_takes_bouts_off_what_costs_most() -> None:
    found = carry([part(drill(), "a"), part(drill(), "b", cr10=8.0)], replace(TARGET, load_au=200))
    assert [(each.minutes, each.bouts) for each in found] == [(18, 4), (10, 2)]
    assert codes(found) == ["carry_minutes_load", "carry_bouts"]
    over = carry([part(drill(), bouts=1, bout_s=1080)], replace(TARGET, load_au=20))
    assert codes(over) == ["carry_load"]


def test_heading_moves_to_a_rung_without_or_is_left_out() -> None:
    headed = drill(
        heading="planned", headers_per_player=6, variations=[rung("feet", "easier", heading="none")]
    )
    found = carry([part(headed)], replace(TARGET, headers=0))
    assert (codes(found), found[0].stations[0].variation_key) == (["carry_rung_heading"], "feet")
    none = carry(
        [part(drill(heading="planned", headers_per_player=6, variations=[]))], replace(TARGET, headers=5)
    )
    assert (codes(none), none[0].stations[0].is_out) == (["carry_out_heading"], True)
    assert codes(carry([part(headed)], replace(TARGET, headers=6))) == []


def test_a_part_too_hard_goes_down_the_ladder() -> None:
    found = carry([part(drill(), cr10=6.0)], replace(TARGET, hardest_cr10=4))
    assert (codes(found), found[0].cr10) == (["carry_rung_effort", "carry_effort_now"], 3.0)


def test_what_a_hall_allows() -> None:
    hall = replace(TARGET, in_hall=True)
    assert codes(carry([part(drill(indoors="no"))], hall)) == ["carry_out_hall"]
    assert codes(carry([part(drill(indoors="with changes"))], hall)) == ["carry_hall_changes"]


def test_too_little_space_leaves_the_drill_out_and_three_players_too() -> None:
    assert codes(carry([part(drill())], at(TARGET, pieces=typed_ground(6, 5)))) == ["carry_out_fits"]
    assert codes(carry([part(drill())], at(TARGET, players=3))) == ["carry_out_fits"]
    anywhere = at(TARGET, players=3, pieces=())
    assert codes(carry([part(drill())], anywhere)) == ["carry_out_players"]


def test_an_age_that_it_is_not_written_for_is_a_hint() -> None:
    found = carry(
        [part(drill(under_from=12, under_to=14))], at(TARGET, ages=players_of(Ages(9, years=2)), chosen=True)
    )
    assert [each.text for each in found[0].changes] == [
        "Harbour is written for U12–U14, not for under 9s: look at it first."
    ]
    assert not found[0].stations[0].is_out


def test_what_is_not_in_the_library_any_more_is_left_out() -> None:
    found = carry([part(drill(), gone=True)], TARGET)
    assert (codes(found), found[0].stations[0].is_out) == (["carry_out_gone"], True)


def test_a_newer_drill_and_a_variation_that_it_has_lost_are_said() -> None:
    found = carry([part(drill(), newer=True, lost_rung="Calm")], TARGET)
    assert codes(found) == ["carry_newer", "carry_rung_gone"]


def test_elsewhere_no_adult_and_no_place_is_at_hand() -> None:
    here = part(drill(), place="North end", has_adult=True)
    assert codes(carry([here], TARGET)) == []
    found = carry([here], replace(TARGET, elsewhere=True))
    assert (codes(found), found[0].stations[0].place) == (["carry_place_left", "carry_adult"], "")


def test_what_was_played_is_what_is_compared() -> None:
    fifteen = PlayedStation("5v5+5", ((34.0, 26.0),))
    found = carry([part(drill(), played=fifteen)], TARGET)
    assert [each.text for each in found[0].changes] == [
        "Harbour: 5v5+5 on 34 × 26 m becomes 4v4+4 on 30 × 24 m, for 12 players."
    ]
    same = carry([part(drill(), played=fifteen)], at(TARGET, players=15))
    assert found[0].stations[0].setup != same[0].stations[0].setup


def test_stations_at_the_same_time_share_players_and_ground() -> None:
    two = [part(drill(format="3v3", variations=[]), key) for key in "ab"]
    found = carry([replace(each, part="p") for each in two], TARGET)
    for each in found[0].stations:
        assert each.setup is not None
        assert each.setup.players_total == 6
        assert max(each.setup.length_m, each.setup.width_m) <= 30


def test_an_empty_part_goes_along() -> None:
    found = carry([part(None)], TARGET)
    assert [each.is_out for each in found[0].stations] == [False]


@pytest.mark.parametrize(
    ("key", "up"), [("calm", "two-fewer"), ("two-fewer", ""), ("", "wild"), ("wild", None)]
)
def test_one_rung_up(key: str, up: str | None) -> None:
    found = one_up(drill(), key)
    assert (found if found is None or isinstance(found, str) else found.key) == up


def test_the_rungs_of_this_file_are_drills() -> None:
    assert Format.parse(drill().format).players == 12
    with pytest.raises(ValueError, match=r"^minutes"):
        Target(TARGET.evening, minutes=0)
