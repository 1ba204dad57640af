"""Rounds of a part: as many as its minutes hold of the drill's own, never longer than the part, in half minutes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.rounds import Rounds, rounds_in


@pytest.mark.parametrize(
    ("minutes", "bout_s", "rest_s", "rounds"),
    [
        (18, 180, 45, Rounds(5, 180, 45)),
        (15, 180, 45, Rounds(4, 180, 45)),
        (12, 240, 60, Rounds(3, 180, 60)),
        (10, 600, 60, Rounds(1, 600, 0)),
        (1, 20, 10, Rounds(1, 60, 0)),
    ],
)
def test_minutes_become_rounds(minutes: int, bout_s: int, rest_s: int, rounds: Rounds) -> None:
    assert rounds_in(minutes, bout_s=bout_s, rest_s=rest_s) == rounds


@given(st.integers(1, 120), st.integers(10, 5400), st.integers(0, 1200))
def test_they_fit_and_leave_less_than_half_a_minute_each(minutes: int, bout_s: int, rest_s: int) -> None:
    found = rounds_in(minutes, bout_s=bout_s, rest_s=rest_s)
    assert 1 <= found.bouts <= 40
    assert found.bouts * found.bout_s + (found.bouts - 1) * found.rest_s == found.all_s
    assert 0 <= minutes * 60 - found.all_s < 30 * found.bouts
    assert found.bout_s >= 30
    assert found.bout_s < 60 or found.bout_s % 30 == 0
    assert found.rest_s == (rest_s if found.bouts > 1 else 0)


def test_less_than_a_minute_is_refused() -> None:
    with pytest.raises(ValueError, match="minutes"):
        rounds_in(0, bout_s=60, rest_s=0)
