"""Match pitches by format, and formats by age."""

import pytest

from drills.game.pitches import match_pitch, usual_a_side


def test_the_match_pitch_follows_the_format_and_for_eleven_the_age() -> None:
    assert [match_pitch(a_side).a_side for a_side in range(1, 12)] == [3, 3, 3, 5, 5, 7, 7, 9, 9, 11, 11]
    assert match_pitch(7, 9) == match_pitch(7, 12) == match_pitch(7)
    lengths = [round(match_pitch(11, under).length_m, 2) for under in (12, 14, 15, 16, 17, 40)]
    assert lengths == [82.3, 82.3, 91.44, 91.44, 100.58, 100.58]
    assert match_pitch(11) == match_pitch(11, 40)


@pytest.mark.parametrize(("a_side", "under"), [(0, None), (12, None), (9, 0)])
def test_no_match_pitch_for_what_is_no_match(a_side: int, under: int | None) -> None:
    with pytest.raises(ValueError, match=r"^(a_side|under): "):
        match_pitch(a_side, under)


def test_three_a_side_have_no_keepers_to_leave_out() -> None:
    assert match_pitch(3).area_per_outfield_player_m2 == 15 * 10 / 6


def test_the_usual_format_of_an_age() -> None:
    """The FA, youth formats from season 2026-27 (second-hand)."""
    usual = {6: 3, 7: 3, 8: 5, 9: 5, 10: 7, 11: 7, 12: 9, 13: 9, 14: 11, 40: 11}
    assert {under: usual_a_side(under) for under in usual} == usual
    with pytest.raises(ValueError, match="under"):
        usual_a_side(0)
