"""Rounds and rests for an age, and parts that they fill: every part, every pair of ages."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.game.evening import AMPLE, Evening, PlayerAges, one_year
from sessions.planning.refit import Target, carry
from sessions.planning.refit.rounds import USUAL, fill, length_words, rounds_for, usual_for
from sessions.planning.rounds import Rounds
from tests.sessions.planning.refit.test_carry import TARGET, drill, part

ROUNDS = st.builds(
    Rounds,
    st.integers(1, 40),
    st.integers(10, 1500),
    st.one_of(st.just(0), st.integers(10, 300)),
)
UNDERS = st.integers(5, 21).map(one_year)


@settings(max_examples=400, deadline=None)
@given(before=ROUNDS, minutes=st.integers(1, 120), was=UNDERS, now=UNDERS)
def test_less_than_two_minutes_of_any_part_are_left_over(
    before: Rounds, minutes: int, was: PlayerAges, now: PlayerAges
) -> None:
    found = rounds_for(before, minutes, was=was, now=now)
    used_s = sum([found.bout_s] * found.bouts + [found.rest_s] * (found.bouts - 1))
    assert 0 <= minutes * 60 - used_s < 120
    if found != before:
        assert (found.bout_s % 30, found.rest_s % 30 if found.bouts > 1 else 0) == (0, 0)
        assert 1 <= found.bouts <= 40


@pytest.mark.parametrize("under", [6, 8, 10, 12, 14, 16, 19])
def test_every_number_of_minutes_can_be_filled(under: int) -> None:
    for minutes in range(1, 121):
        for before in (
            Rounds(1, minutes * 60, 0),
            Rounds(4, 180, 45),
            Rounds(10, 30, 30),
            Rounds(2, 600, 120),
        ):
            for was in (7, 12, 18):
                found = rounds_for(before, minutes, was=one_year(was), now=one_year(under))
                assert found.fills(minutes), (minutes, before, was)


@settings(max_examples=200, deadline=None)
@given(
    bout_s=st.integers(2, 12).map(lambda n: n * 30),
    rest_s=st.sampled_from([0, 30, 45, 60]),
    bouts=st.integers(2, 8),
    was=UNDERS,
    now=UNDERS,
)
def test_rounds_never_get_longer_for_younger_children_nor_shorter_for_older_ones(
    bout_s: int, rest_s: int, bouts: int, was: PlayerAges, now: PlayerAges
) -> None:
    before = Rounds(bouts, bout_s, rest_s)
    minutes = -(-before.seconds // 60)
    found = rounds_for(before, minutes, was=was, now=now)
    old, new = usual_for(was), usual_for(now)
    if old.round_min == new.round_min:
        assert found == before
    elif old.round_min > new.round_min:
        assert found.bout_s <= before.bout_s
    else:
        assert found.bout_s >= min(before.bout_s, new.longest_min * 60 / 2)
    if old.round_min != new.round_min:
        assert found.bout_s <= new.longest_min * 60


@pytest.mark.parametrize(
    ("before", "minutes", "was", "now", "after"),
    [
        (Rounds(4, 180, 45), 15, 12, 9, Rounds(6, 120, 30)),
        (Rounds(4, 240, 40), 18, 12, 9, Rounds(6, 150, 30)),
        (Rounds(1, 1200, 0), 20, 12, 8, Rounds(3, 360, 60)),
        (Rounds(1, 480, 0), 8, 12, 9, Rounds(1, 480, 0)),
        (Rounds(5, 150, 45), 16, 12, 9, Rounds(6, 120, 30)),
        (Rounds(6, 60, 60), 11, 12, 9, Rounds(6, 60, 60)),
        (Rounds(5, 150, 75), 18, 12, 7, Rounds(9, 90, 30)),
        (Rounds(4, 180, 45), 15, 9, 14, Rounds(4, 180, 60)),
        (Rounds(4, 180, 45), 15, 12, 11, Rounds(4, 180, 45)),
        (Rounds(4, 180, 45), 20, 12, 12, Rounds(6, 150, 60)),
    ],
)
def test_what_a_coach_would_do(before: Rounds, minutes: int, was: int, now: int, after: Rounds) -> None:
    assert rounds_for(before, minutes, was=one_year(was), now=one_year(now)) == after


@pytest.mark.parametrize("cycle", [2, 3, 4])
@pytest.mark.parametrize("minutes", range(12, 41))
def test_groups_that_change_round_still_come_everywhere(cycle: int, minutes: int) -> None:
    before = Rounds(cycle, minutes * 60 // cycle - 60, 60)
    for was, now in ((12, 9), (9, 14), (12, 12)):
        found = rounds_for(before, minutes, was=one_year(was), now=one_year(now), cycle=cycle)
        assert found.fills(minutes)
        assert found.bouts % cycle == 0


def test_a_load_that_is_over_takes_a_whole_turn_off() -> None:
    three = [
        part(drill(format="3v3", variations=[]), key, part="p", bouts=6, bout_s=150, cycle=3) for key in "abc"
    ]
    (found,) = carry(three, replace(TARGET, load_au=70))
    assert (found.bouts, found.bouts % 3) == (3, 0)
    assert Rounds(found.bouts, found.bout_s, found.rest_s).fills(found.minutes)


def test_the_table_rises_and_each_age_has_a_row() -> None:
    for name in ("under", "round_min", "longest_min"):
        values = [getattr(each, name) for each in USUAL]
        assert values == sorted(values)
    assert all(each.round_min * 2 == int(each.round_min * 2) for each in USUAL)
    assert usual_for(one_year(9)).round_min == 2
    assert usual_for(PlayerAges(10, None, 9)).round_min == 2.5


def test_no_minutes_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"^minutes"):
        fill(Rounds(1, 60, 0), 0)


@pytest.mark.parametrize(
    ("seconds", "text"), [(120, "2 min"), (150, "2½ min"), (45, "45 s"), (75, "1 min 15 s"), (30, "30 s")]
)
def test_lengths_as_a_coach_says_them(seconds: int, text: str) -> None:
    assert length_words(seconds) == text


@settings(max_examples=60, deadline=None)
@given(
    parts=st.lists(st.tuples(st.integers(5, 40), ROUNDS), min_size=1, max_size=5),
    minutes=st.integers(20, 120),
    load=st.one_of(st.none(), st.integers(30, 400)),
    ages=st.tuples(UNDERS, UNDERS),
)
def test_every_part_of_a_copied_session_is_filled_and_all_that_differs_is_said(
    parts: list[tuple[int, Rounds]], minutes: int, load: int | None, ages: tuple[PlayerAges, PlayerAges]
) -> None:
    there = Evening(12, adults=1, ages=ages[1], pieces=(replace(AMPLE, key=""),), chosen=True)
    target = Target(there, minutes=minutes, load_au=load, was=ages[0], elsewhere=True)
    stations = [
        part(drill(), str(n), minutes=whole, bouts=each.bouts, bout_s=each.bout_s, rest_s=each.rest_s)
        for n, (whole, each) in enumerate(parts)
    ]
    for before, found in zip(stations, carry(stations, target), strict=True):
        assert Rounds(found.bouts, found.bout_s, found.rest_s).fills(found.minutes)
        codes = {each.code.removesuffix("_adults") for each in found.changes}
        assert (found.minutes != before.minutes) == bool(codes & {"carry_minutes", "carry_minutes_load"})
        assert (found.bouts != before.bouts) == ("carry_bouts" in codes)
        assert (found.bout_s != before.bout_s) == bool(codes & {"carry_round", "carry_round_fill"})
        rests = before.rest_s != found.rest_s or before.bouts == 1
        assert (found.bouts > 1 and rests) == bool(codes & {"carry_rest", "carry_rest_new"})


def test_on_its_own_evening_rounds_stay_as_they_were_typed() -> None:
    loose = part(drill(), minutes=20, bouts=2, bout_s=185, rest_s=20)
    (found,) = carry([loose], replace(TARGET, keep_minutes=True))
    assert (found.bouts, found.bout_s, found.rest_s, found.changes) == (2, 185, 20, ())


def test_a_round_that_is_short_already_changes_for_the_minutes_and_says_so() -> None:
    there = replace(TARGET.evening, ages=one_year(9), chosen=True)
    target = replace(TARGET, evening=there, was=one_year(12), elsewhere=True)
    (found,) = carry([part(drill(), minutes=13, bouts=4, bout_s=120, rest_s=30)], target)
    assert found.bout_s <= 120
    assert "carry_round" not in {each.code for each in found.changes}


def test_one_spell_gets_shorter_with_its_minutes_and_is_divided_for_its_age() -> None:
    there = replace(TARGET.evening, ages=one_year(9), chosen=True)
    target = replace(TARGET, evening=there, was=one_year(12), elsewhere=True)
    spell = part(drill(), minutes=12, bouts=1, bout_s=720, rest_s=0)
    for minutes, code in ((13, "carry_round_fill"), (75, "carry_round")):
        (found,) = carry([spell], replace(target, minutes=minutes))
        assert code in {each.code for each in found.changes}


def test_the_sentence_of_a_shorter_round() -> None:
    there = replace(TARGET.evening, ages=one_year(9), chosen=True)
    target = replace(TARGET, evening=there, was=one_year(12), elsewhere=True)
    (found,) = carry([part(drill(), minutes=15, bouts=4, bout_s=180, rest_s=45)], target)
    assert [each.text for each in found.changes if each.code != "carry_setup"][:3] == [
        "Harbour: rounds of 3 min become 2 min, for under 9s.",
        "Harbour: rests of 45 s become 30 s.",
        "Harbour: 6 rounds instead of 4.",
    ]
