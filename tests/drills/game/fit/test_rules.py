"""The rules a coach holds to, one by one: who keeps, who watches, who waits, how big a side may be."""

import pytest

from drills.game.fit import fit, fit_on
from tests.drills.game.fit.evenings import evening
from tests.drills.game.fit.test_fit import AMPLE, MATCH, POSSESSION, RONDO, design, told


def test_up_to_u12_they_take_turns_in_goal() -> None:
    game = design("GK+3v3+GK", 25, 20, kit={"moveable goals": 2})
    best = fit_on(game, evening(16, under=12, keepers=1, adults=2, **AMPLE))[0]
    assert told(best) == ("2 × GK+3v3+GK", 0)
    assert [reason.key for reason in best.reasons] == ["split", "keepers_rotate"]
    # A goal without a keeper is kept by turns, and stays a goal; older players shoot at a small one instead.
    seven = {under: fit_on(game, evening(7, under=under, keepers=1, **AMPLE))[0] for under in (12, 13)}
    assert {under: answer.numbers for under, answer in seven.items()} == {12: "GK+3v3", 13: "GK+3v3"}
    assert {under: answer.kit for under, answer in seven.items()} == {
        12: {"moveable goals": 2, "bibs": 3},
        13: {"moveable goals": 1, "mini goals": 1, "bibs": 3},
    }


def test_one_adult_stands_between_two_grids_of_the_youngest() -> None:
    def grids(adults: int, under: int) -> set[int]:
        return {a.grids for a in fit_on(POSSESSION, evening(36, under=under, adults=adults, **AMPLE))}

    assert (grids(1, 10), grids(2, 10), grids(1, 11)) == ({2}, {2, 3}, {2, 3})
    young, older = (fit_on(POSSESSION, evening(24, under=under, **AMPLE))[0] for under in (10, 11))
    assert (young.grids, older.grids) == (2, 2)
    assert [reason.key for reason in young.reasons if reason.weight == "warning"] == ["ask_parent"]
    assert [reason.key for reason in older.reasons if reason.weight == "warning"] == ["few_adults"]


def test_too_few_adults_leave_nobody_without_a_game() -> None:
    fun = design("10", 18, 15, anyone_can_join=True, min_players=5, adults_needed=2)
    alone = fit_on(fun, evening(9, under=7, adults=1, **AMPLE))[0]
    assert (told(alone), [reason.key for reason in alone.reasons]) == (
        ("9", 0),
        ["numbers", "grid", "ask_parent"],
    )


def test_no_side_is_larger_than_in_a_match_of_the_age_group() -> None:
    game = design("4v4", 24, 18, sides_by_age=True)

    def most(a_side: int | None) -> int:
        tonight = evening(14, under=9, adults=4, a_side=a_side, **AMPLE)
        return max(
            side.players for a in fit_on(game, tonight) for fmt in a.grid_formats for side in fmt.sides
        )

    assert (most(5), most(7), most(None)) == (4, 7, 7)
    assert most(3) == 4  # the design's own sides stay


def test_a_grid_gives_nobody_more_room_than_a_match() -> None:
    game = design("3v3", 40, 30, sides_by_age=True)
    best = fit_on(game, evening(6, under=7, a_side=3, **AMPLE))[0]
    # The FA, youth formats from season 2026-27: three a side on 20 × 15 m at most.
    assert best.length_m * best.width_m <= 20 * 15


def test_planned_waiting_costs_nothing_up_to_the_plan() -> None:
    waves = design("3v2+GK", 25, 20, planned_waiting=0.4, area_matters=False)
    ten = fit(waves, players=10, **AMPLE)[0]
    assert (told(ten), ten.waiting_beyond, ten.distance) == (("3v2+GK", 4), 0, 0)
    beyond = next(a for a in fit(waves, players=12, **AMPLE) if told(a) == ("3v2+GK", 6))
    assert (beyond.waiting_beyond, beyond.terms["waiting"]) == (1, pytest.approx(3 / 12))


def test_more_than_half_are_never_off_and_nobody_waits_long() -> None:
    duels = design("1v1", 12, 10, planned_waiting=0.5, sides_fixed=True, neutrals_fixed=True)
    assert {a.waiting / 14 <= 0.5 for a in fit(duels, players=14, **AMPLE)} == {True}
    # A go of 40 s: with n on and m off a wait of 40 m ÷ n seconds, at most 30 s up to U12 and 45 s above.
    long = design("1v1", 12, 10, planned_waiting=0.5, sides_fixed=True, neutrals_fixed=True, work_s=40)
    for under, longest in ((12, 30), (14, 45)):
        waits = {40 * a.waiting / (14 - a.waiting) for a in fit_on(long, evening(14, under=under, **AMPLE))}
        assert 0 < max(waits) <= longest


def test_nobody_is_off_in_a_game_that_can_take_all() -> None:
    for game in (POSSESSION, RONDO, MATCH, design("4v4v4", 30, 25)):
        for players in range(game.least_players, 31):
            assert {a.waiting for a in fit(game, players=players, **AMPLE)} <= {0}


def test_where_it_cannot_a_few_take_turns() -> None:
    """Twelve square metres each: nine of eleven fit into 12 × 9 m, and never fewer than three quarters play."""
    found = fit(design("4v4", 12, 10), players=11, length_m=12, width_m=9)
    assert {told(a) for a in found} == {("5v4", 2), ("4v4+1in", 2), ("4v3+2in", 2)}
    assert fit(design("4v4", 12, 10), players=13, length_m=12, width_m=9) == []


def test_grids_side_by_side_differ_by_one_player() -> None:
    for players in range(12, 40):
        for answer in fit(POSSESSION, players=players, **AMPLE):
            sizes = [fmt.players for fmt in answer.grid_formats]
            assert max(sizes) - min(sizes) <= 1


def test_what_a_rung_fixes_is_not_traded_for_numbers() -> None:
    targets = design("4(+2)v4(+2)", 30, 28, outside_fixed=True)
    helpers = design("4v4+2", 24, 20, neutrals_fixed=True)
    places = design("8", 44, 34, area_matters=False, sides_fixed=True)
    for players in range(8, 17):
        assert {
            fmt.sides[0].outside for a in fit(targets, players=players, **AMPLE) for fmt in a.grid_formats
        } <= {2}
        assert {fmt.neutrals for a in fit(helpers, players=players, **AMPLE) for fmt in a.grid_formats} <= {2}
    assert told(fit(places, players=11, **AMPLE)[0]) == ("8", 3)


def test_an_adult_fills_up_the_neutrals_only_when_one_can_be_spared() -> None:
    assert {a.adult_plays for a in fit(POSSESSION, players=11, adults=1, **AMPLE)} == {0}
    answer = next(a for a in fit(POSSESSION, players=11, adults=2, **AMPLE) if a.adult_plays)
    assert (told(answer), answer.distance) == (("4v4+3", 0), pytest.approx(0.25))
    assert {name for name, value in answer.terms.items() if value} == {"adult", "rotation"}


def test_ranges_of_groups_bound_the_candidates() -> None:
    game = design("4v4+2", 24, 20, slots=((0, "inside", 3, 4), (1, "inside", 3, 4), (-1, "outside", 1, 3)))
    for players in range(6, 25):
        for fmt in {fmt for a in fit(game, players=players, **AMPLE) for fmt in a.grid_formats}:
            assert {side.inside for side in fmt.sides} <= {3, 4}
            assert 1 <= fmt.neutrals_outside <= 3
