"""The smallest rooms say exactly where Fit has an answer. Oracle: Fit itself, asked at random."""

import random
from dataclasses import replace
from typing import Any

import pytest

from drills.game.design import Design
from drills.game.document.choices import GoalSize
from drills.game.evening import Evening, Piece, PlayerAges
from drills.game.fit import fit, fit_on
from drills.game.format import Format
from drills.game.rooms import (
    ANY_NUMBER,
    Rooms,
    class_bit,
    either,
    fingerprint,
    fingerprint_of_either,
    keepers_bit,
    keepers_that_matter,
    rooms,
)

DESIGNS = {
    "4v4+4": Design(Format.parse("4v4+4"), length_m=25, width_m=20),
    "5v2": Design(Format.parse("5v2"), length_m=8, width_m=8, counts_everyone=True),
    "GK+4v4+GK": Design(
        Format.parse("GK+4v4+GK"),
        length_m=30,
        width_m=22,
        sides_by_age=True,
        shot_at=(("left", GoalSize.AGE_GROUP), ("right", GoalSize.AGE_GROUP)),
    ),
    "1v1": Design(
        Format.parse("1v1"),
        length_m=12,
        width_m=10,
        planned_waiting=0.5,
        work_s=35,
        sides_fixed=True,
        neutrals_fixed=True,
        waiting_kind="queue",
    ),
    "targets": Design(
        Format.parse("4(+2)v4(+2)"), length_m=30, width_m=28, outside_fixed=True, sides_by_age=True
    ),
    "places": Design(Format.parse("8"), length_m=44, width_m=34, area_matters=False, sides_fixed=True),
    "3v2": Design(
        Format.parse("3v2"),
        length_m=25,
        width_m=18,
        area_matters=False,
        planned_waiting=0.6,
        waiting_kind="queue",
    ),
    "3v2+GK": Design(
        Format.parse("3v2+GK"), length_m=20, width_m=16, shot_at=(("right", GoalSize.AGE_GROUP),)
    ),
    "3GK": Design(Format.parse("3GK"), length_m=16, width_m=12, area_matters=False),
    "12": Design(
        Format.parse("12"), length_m=20, width_m=20, anyone_can_join=True, min_players=4, max_players=24
    ),
    "touchlines": Design(Format.parse("3v3+2"), length_m=22, width_m=15, outside_sides=("top", "bottom")),
    "half metres": Design(Format.parse("3v3"), length_m=18.5, width_m=13.5),
    "two adults": Design(Format.parse("4v4"), length_m=22, width_m=18, adults_needed=2, sides_by_age=True),
}


NOBODY_SAID = class_bit(None, None)


def holds(
    found: list[Rooms],
    players: int,
    keepers: int | None,
    length: float,
    width: float,
    *,
    bit: int = NOBODY_SAID,
    all_play: bool = False,
) -> bool:
    long_cm, short_cm = 100 * max(length, width), 100 * min(length, width)
    mine = [
        each
        for each in found
        if each.players == players and each.all_play == all_play
        if each.keepers & keepers_bit(keepers) and each.classes & bit
    ]
    return any(
        long <= long_cm and short <= short_cm
        for each in mine
        for long, short in zip(each.longs_cm, each.shorts_cm, strict=True)
    )


def any_evening(dice: random.Random, design: Design) -> Evening:
    """Players of any age and format, with any number of adults, on any ground that is open all round."""
    players, length, width = dice.randint(1, 24), dice.randint(8, 120) / 2, dice.randint(8, 100) / 2
    keepers = dice.choice([each for each in keepers_that_matter(design) if (each or 0) <= players])
    low = dice.randint(6, 16)
    side = dice.choice([None, 3, 4, 5, 6, 7, 9, 11])
    ages = dice.choice([None, PlayerAges(low, low + dice.randint(0, 2), low - 1, side)])
    adults = dice.choice([None, 1, 2, 4])
    return Evening(players, keepers, adults, ages, (Piece("", length, width),))


@pytest.mark.parametrize("name", DESIGNS)
def test_rooms_say_where_fit_has_an_answer(name: str) -> None:
    design, dice = DESIGNS[name], random.Random(name)
    found = rooms(design, most_players=24)
    answered = []
    for _ in range(80):
        evening = any_evening(dice, design)
        answers = fit_on(design, evening, most=2000)
        answered.append(bool(answers))
        piece, bit = evening.pieces[0], class_bit(evening.ages, evening.adults)
        asked = evening.players, evening.keepers, piece.length_m, piece.width_m
        assert holds(found, *asked, bit=bit) == bool(answers), evening
        nobody_off = any(not each.waiting for each in answers)
        assert holds(found, *asked, bit=bit, all_play=True) == nobody_off, evening
    assert set(answered) == {True, False}  # both were tried


def test_no_room_lies_inside_another_of_the_same_numbers() -> None:
    for each in rooms(DESIGNS["4v4+4"], most_players=16):
        assert list(each.longs_cm) == sorted(set(each.longs_cm))
        assert list(each.shorts_cm) == sorted(set(each.shorts_cm), reverse=True)
        assert all(s <= long <= 13_000 for long, s in zip(each.longs_cm, each.shorts_cm, strict=True))


@pytest.mark.parametrize("name", ["5v2", "GK+4v4+GK", "touchlines"])
def test_each_corner_is_where_fit_begins_to_have_an_answer(name: str) -> None:
    design = DESIGNS[name]
    found = [each for each in rooms(design, most_players=14) if each.classes & NOBODY_SAID]
    for row in [each for each in found if each.players > ANY_NUMBER and not each.all_play][5::7]:
        keepers = None if row.keepers & 1 else row.keepers.bit_length() - 2
        long, short = row.longs_cm[-1] / 100, row.shorts_cm[-1] / 100
        assert works(design, row.players, keepers, long, short)
        assert not works(design, row.players, keepers, long, short - 1)
        assert not works(design, row.players, keepers, row.longs_cm[0] / 100 - 1, row.shorts_cm[0] / 100)


def works(design: Design, players: int, keepers: int | None, length: float, width: float) -> bool:
    return bool(fit(design, players=players, keepers=keepers, length_m=length, width_m=width))


def test_a_grid_in_part_metres_takes_no_more_than_its_own() -> None:
    """Other grids are in whole metres; the one that the coach measured stays as it is."""
    design = Design(Format.parse("2v2"), length_m=6.5, width_m=5.25, min_players=4, max_players=4)
    found = rooms(design, most_players=4)
    for length, there in ((6.5, True), (6.49, False)):
        assert holds(found, 4, None, length, 5.25) == works(design, 4, None, length, 5.25) == there


def test_any_number_has_the_rooms_of_all() -> None:
    design = DESIGNS["4v4+4"]
    found = rooms(design, most_players=18)
    for length, width in ((10, 9), (12, 9), (17, 13), (14, 20), (40, 8), (60, 40)):
        some = any(works(design, players, None, length, width) for players in range(1, 19))
        assert holds(found, ANY_NUMBER, None, length, width) == some


def test_where_nobody_keeps_goal_one_row_is_for_any_number_of_keepers() -> None:
    found = rooms(DESIGNS["5v2"], most_players=12)
    assert {row.keepers for row in found} == {31}
    mine = [row for row in found if row.classes & NOBODY_SAID and not row.all_play]
    assert len({row.players for row in mine}) == len(mine) > 5


def test_either_holds_where_one_of_them_does() -> None:
    several = [rooms(DESIGNS[name], most_players=20) for name in ("5v2", "GK+4v4+GK", "12")]
    both, dice = either(several), random.Random("either")
    for _ in range(300):
        players, keepers = dice.randint(0, 20), dice.choice([None, 0, 1, 2, 3])
        tonight = players, keepers, dice.randint(4, 50), dice.randint(4, 40)
        assert holds(both, *tonight) == any(holds(each, *tonight) for each in several), tonight


def test_what_plays_no_part_leaves_the_fingerprint_alone() -> None:
    design = DESIGNS["GK+4v4+GK"]
    same = replace(design, kit={"poles": 4}, bibs=False, under_from=12, under_to=15, keeper_goal="mini goals")
    assert fingerprint(same) == fingerprint(design)
    assert rooms(same, most_players=12) == rooms(design, most_players=12)


CHANGES: list[dict[str, Any]] = [
    {"length_m": 31},
    {"width_m": 21},
    {"format": Format.parse("GK+4v4")},
    {"anyone_can_join": True},
    {"min_players": 7},
    {"max_players": 12},
    {"planned_waiting": 0.4},
    {"counts_everyone": True},
    {"area_matters": False},
    {"adults_needed": 2},
    {"sides_by_age": False},
    {"sides_fixed": True},
    {"neutrals_fixed": True},
    {"outside_fixed": True},
    {"shot_at": (("left", GoalSize.MINI),)},
    {"planned_waiting": 0.4, "work_s": 30},
    {"outside_sides": ("left",)},
]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: next(iter(change)))
def test_what_decides_the_rooms_is_in_the_fingerprint(change: dict[str, Any]) -> None:
    design = DESIGNS["GK+4v4+GK"]
    assert fingerprint(replace(design, **change)) != fingerprint(design)


def test_the_fingerprint_of_either_is_a_single_ones_own() -> None:
    one, two = (fingerprint(DESIGNS[name]) for name in ("5v2", "12"))
    assert fingerprint_of_either([one, one]) == one
    assert fingerprint_of_either([one, two]) == fingerprint_of_either([two, one, two])
    assert fingerprint_of_either([one, two]) not in (one, two)
