"""Where a text speaks of players by the colour of their bibs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.drawing.bibs import BIBS
from drills.game.bibs import COLOURS, colours_in, recoloured
from drills.game.bibs.words import colours_of_goals

WEAR = {"red": "orange", "blue": "white", "yellow": "green", "light blue": "pink"}


@pytest.mark.parametrize(
    ("written", "tonight"),
    [
        ("Reds pass to a yellow.", "Oranges pass to a green."),
        ("As a red you are first to it.", "As an orange you are first to it."),
        ("A red runs; each Blue follows.", "An orange runs; each White follows."),
        ("the reds' goal and the blues’ box", "the oranges' goal and the whites’ box"),
        ("red's first touch", "orange's first touch"),
        ("nearest yellow, any red and the second blue", "nearest green, any orange and the second white"),
        ("light blues wait, a light blue goes", "pinks wait, a pink goes"),
        ("between a green and an orange", "between a green and an orange"),
    ],
)
def test_words_follow_the_bibs_articles_and_capitals_too(written: str, tonight: str) -> None:
    assert recoloured(written, WEAR) == tonight


@pytest.mark.parametrize(
    "text",
    [
        "round the red cone and through the blue gate",
        "Which touch is your green light? The grass is yellow.",
        'the coach calls "red" or “a blue”',
        "a yellow card, the red line, each blue ball, the red goals",
        "bored, redder, blueprint, yellowish",
    ],
)
def test_things_and_what_is_called_out_keep_their_colours(text: str) -> None:
    assert recoloured(text, WEAR) == text


def test_a_goal_that_is_called_by_a_colour_is_that_sides() -> None:
    goals = colours_of_goals(["red-goal", "far_blue_goal", "yellow-gate", "north"])
    assert goals == {"red", "blue"}
    assert recoloured("a shot at the red goal", WEAR, goals=goals) == "a shot at the orange goal"
    assert recoloured("a shot at the yellow goal", WEAR, goals=goals) == "a shot at the yellow goal"


def test_in_a_name_every_colour_is_that_of_players() -> None:
    assert recoloured("lone yellow", WEAR) == "lone yellow"
    assert recoloured("lone yellow", WEAR, name=True) == "lone green"
    assert [each.players for each in colours_in("red runs at a blue")] == [False, True]


@given(
    st.lists(st.sampled_from([*COLOURS, "the", "a", "reds", "cone", "passes", "“", "”", "."]), max_size=12)
)
def test_colours_that_change_places_and_back_are_the_text_again(words: list[str]) -> None:
    text = " ".join(words)
    there = recoloured(text, {"red": "purple", "purple": "red"})
    assert recoloured(there, {"red": "purple", "purple": "red"}) == text
    assert recoloured(text, {}) == text


def test_there_is_a_paint_for_each_word() -> None:
    assert set(COLOURS) == set(BIBS)
