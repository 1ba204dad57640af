"""Rounds that the app proposes are in whole or half minutes, inside the part, and near to the drill's own."""

from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.rounds import HALF_MINUTE_S, Rounds, on_the_clock, shared_out, usual_rounds

MINUTES, BOUT, REST = st.integers(1, 120), st.integers(10, 5400), st.integers(0, 1200)


@given(MINUTES, BOUT, REST, st.none() | st.integers(1, 40))
def test_every_round_and_rest_is_in_half_minutes_and_inside_the_part(
    minutes: int, bout_s: int, rest_s: int, bouts: int | None
) -> None:
    found = on_the_clock(minutes, bout_s, rest_s, bouts=bouts)
    assert found.bout_s % HALF_MINUTE_S == found.rest_s % HALF_MINUTE_S == 0
    assert found.bout_s >= HALF_MINUTE_S
    assert 1 <= found.bouts <= 40
    assert found.seconds <= minutes * 60
    assert (found.rest_s > 0) == (rest_s > 0 and found.bouts > 1) or found.rest_s == HALF_MINUTE_S


@given(st.integers(1, 20), st.integers(1, 10), st.integers(0, 6))
def test_a_drill_that_is_in_half_minutes_and_fills_its_part_is_run_as_written(
    bouts: int, work: int, rest: int
) -> None:
    seconds = (bouts * work + (bouts - 1) * rest) * HALF_MINUTE_S
    if seconds % 60 == 0:
        found = on_the_clock(seconds // 60, work * HALF_MINUTE_S, rest * HALF_MINUTE_S)
        assert found.seconds == seconds
        assert found.bout_s == work * HALF_MINUTE_S


def test_a_quarter_of_an_hour_of_odd_rounds() -> None:
    # 4 × 2:45 with 45 s between is 13:15; 225 s is what an even share of 15 minutes came to.
    assert on_the_clock(15, 165, 45) == Rounds(4, 180, 60)
    assert on_the_clock(8, 300, 0) == Rounds(2, 240, 0)
    assert on_the_clock(1, 300, 60) == Rounds(1, 60, 0)
    assert usual_rounds(15, 4, 165, 45) == Rounds(4, 180, 60)


def test_what_an_author_wrote_in_half_minutes_stays_as_it_is() -> None:
    assert usual_rounds(15, 4, 150, 30) == Rounds(4, 150, 30)


@given(st.integers(1, 120), st.integers(1, 40), st.integers(0, 1200))
def test_a_round_that_nobody_typed_is_the_largest_half_minute_that_fits(
    minutes: int, bouts: int, rest_s: int
) -> None:
    found, left = shared_out(minutes, bouts, rest_s), minutes * 60 - (bouts - 1) * rest_s
    if left >= bouts * HALF_MINUTE_S:
        assert found % HALF_MINUTE_S == 0
        assert bouts * found <= left < bouts * (found + HALF_MINUTE_S)
    else:
        assert found == max(0, left) // bouts


def test_four_rounds_of_a_quarter_of_an_hour_are_three_and_a_half_minutes() -> None:
    assert shared_out(15, 4, 0) == 210  # not 225
