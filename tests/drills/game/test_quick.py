"""A drill in a minute: whatever numbers a coach writes, the drill is whole, drawn, and asks for those players."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.drawing.picture import scene_as_written
from drills.game.document import DrillDocument
from drills.game.document.choices import Activity, GroupHome, NumbersKind
from drills.game.evening import Evening
from drills.game.fits import fits
from drills.game.format import Format, Side, UnclearFormat
from drills.game.made.quick import quick_document, read_numbers
from drills.game.validate import errors


def quick(numbers: str, length_m: float = 30, width_m: float = 20) -> DrillDocument:
    return quick_document(
        title="Post box",
        numbers=numbers,
        length_m=length_m,
        width_m=width_m,
        purpose="Keep it.",
        size_for="as first written",
        say_this=["Keep it away from them."],
    )


sides = st.builds(Side, st.integers(1, 8), st.integers(0, 2), st.integers(0, 1))
games = st.builds(
    Format,
    st.lists(sides, min_size=2, max_size=4).map(tuple),
    st.integers(0, 2),
    st.integers(0, 4),
)
groups = st.builds(
    Format, st.builds(Side, st.integers(1, 20), st.just(0), st.integers(0, 2)).map(lambda each: (each,))
)


@given(games | groups, st.integers(8, 60), st.integers(8, 40))
def test_any_numbers_make_a_whole_drill_that_is_drawn(fmt: Format, length_m: int, width_m: int) -> None:
    document = quick(str(fmt), length_m, width_m)
    assert errors(document) == []
    assert Format.parse(document.format) == fmt
    assert sum(each.least for each in document.groups) == fmt.players
    drawn = scene_as_written(document)
    assert len([each for each in drawn.players if each.side != "adult"]) == fmt.players
    assert len(document.goals) == (sum(bool(each.keeper) for each in fmt.sides) if fmt.has_opponents else 0)


@pytest.mark.parametrize(
    ("numbers", "activity"),
    [
        ("5v5+2", Activity.POSSESSION),
        ("GK+4v4+GK", Activity.DIRECTIONAL),
        ("6v4+GK", Activity.DIRECTIONAL),
        ("4v1", Activity.RONDO),
        ("5v2", Activity.RONDO),
        ("12", Activity.TECHNIQUE),
        ("8-14", Activity.TECHNIQUE),
    ],
)
def test_the_kind_of_game_follows_from_the_numbers(numbers: str, activity: Activity) -> None:
    assert quick(numbers).activity is activity


def test_a_rondos_keepers_of_the_ball_stand_on_the_edges() -> None:
    assert [each.place for each in quick("5v2").groups] == [GroupHome.EVERY_SIDE, GroupHome.INSIDE]


@pytest.mark.parametrize("text", ["8-14", "8–14", " 14 – 8 ", "8 to 14"])
def test_a_range_is_for_as_many_as_come(text: str) -> None:
    document = quick(text)
    numbers = document.numbers
    assert (numbers.kind, numbers.least, numbers.most, document.format) == (NumbersKind.RANGE, 8, 14, "11")
    assert errors(document) == []
    for players in (8, 11, 14):
        assert fits(document, "", Evening(players, chosen=True))[0].waiting == 0


@pytest.mark.parametrize("text", ["", "five", "0-4", "8-99", "5v", "5v5+GK"])
def test_what_cannot_be_read_says_so(text: str) -> None:
    with pytest.raises(UnclearFormat):
        read_numbers(text)
