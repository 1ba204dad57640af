"""What Fit hears of a document."""

import pytest

from drills.game.fit import fit
from drills.game.playable import design_of, grid_of, kit_of, outside_edges
from tests.drills.samples import WHOLE, outside, small, whole


def test_the_design_has_the_documents_numbers_grid_and_kit() -> None:
    design = design_of(whole())
    assert str(design.format) == "5v5+2in"
    assert (design.length_m, design.width_m) == (25, 20)
    assert design.area_per_player_m2 == pytest.approx(500 / 12)  # 25 × 20 m over 12 inside
    assert design.kit == {"marker cones": 12, "mini goals": 2, "balls": 7}
    assert (design.least_players, design.outside_sides) == (6, None)


def test_the_area_is_shared_by_those_inside() -> None:
    assert design_of(outside()).area_per_player_m2 == 62.5  # 25 × 20 m over 8 inside, four stand outside


def test_a_variation_and_another_grid() -> None:
    assert design_of(whole(), "wide").length_m == 35
    assert design_of(whole(), grid_key="large").width_m == 30
    with pytest.raises(KeyError):
        design_of(whole(), "no-such")
    with pytest.raises(KeyError):
        grid_of(whole(), "no-such")


def test_a_rondo_counts_everyone_and_a_queue_plans_its_waiting() -> None:
    assert design_of(small()).counts_everyone
    waves = small(
        activity="waves", format="3v2", queue={"work_s": 15, "wait_s": 45, "next": "the next three"}
    )
    design = design_of(waves)
    assert design.planned_waiting == 0.75
    assert design.waiting_kind == "queue"
    assert design.area_per_player_m2 is None


def test_ranges_and_anyone() -> None:
    design = design_of(small(numbers={"kind": "range", "least": 4, "most": 9}))
    assert (design.min_players, design.max_players, design.anyone_can_join) == (4, 9, False)
    assert design_of(small(numbers={"kind": "anyone"})).anyone_can_join


def test_what_a_rung_fixes() -> None:
    """A duel is for its numbers, a pattern has its places, helpers at the ends keep theirs."""
    assert design_of(small(activity="duel", format="1v1")).sides_fixed
    pattern = design_of(small(activity="pattern", format="8", groups=[]))
    assert (pattern.sides_fixed, pattern.may_wait) == (True, 0.5)
    targets = {"key": "N", "name": "targets", "plays_for": "whoever has the ball", "role": "target"}
    groups = [{**targets, "place": place, "least": 2} for place in ("end line", "every side")]
    fixed = [design_of(small(format="4v4+2", groups=[group])).neutrals_fixed for group in groups]
    assert fixed == [True, False]


def test_a_variation_that_changes_the_helpers_keeps_its_number() -> None:
    two = {
        "key": "two",
        "title": "Two",
        "rung": "harder",
        "changes": [{"type": "set_format", "format": "4v4+2"}],
    }
    document = small(format="4v4+4", groups=[], variations=[two])
    assert not design_of(document).neutrals_fixed
    assert design_of(document, "two").neutrals_fixed


def test_games_between_sides_are_bounded_by_the_age_group() -> None:
    kinds = {
        activity: design_of(small(activity=activity, format="5v2", groups=[])).sides_by_age
        for activity in ("possession", "match", "rondo", "fun game")
    }
    assert kinds == {"possession": True, "match": True, "rondo": False, "fun game": False}
    assert design_of(small(activity="rondo", format="5v2", groups=[])).max_players == 9


def test_goals_are_shot_at() -> None:
    goals = [{"key": "g", "edge": "left", "size": "age group"}, {"key": "h", "edge": "free"}]
    assert design_of(small(goals=goals)).shot_at == (("left", "age group"),)


def test_outside_players_stand_where_their_group_says() -> None:
    outside = {**WHOLE["groups"][2], "place": "touchline"}
    assert outside_edges(whole(groups=[*WHOLE["groups"][:2], outside])) == ("top", "bottom")
    assert outside_edges(whole(groups=[*WHOLE["groups"][:2], {**outside, "edges": ["left"]}])) == ("left",)
    assert outside_edges(whole()) is None


def test_gates_are_two_cones_each_unless_the_kit_counts_them() -> None:
    assert kit_of(whole(kit=[]))["marker cones"] == 2
    assert kit_of(whole())["marker cones"] == 12


def test_design_numbers_in_design_space_come_back_unchanged() -> None:
    for document in (whole(), outside()):
        best = fit(design_of(document), players=12, length_m=29, width_m=24)[0]
        found = (str(best.format), best.length_m, best.width_m, best.distance)
        assert found == (document.format, 25, 20, 0)
