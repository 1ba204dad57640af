import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.game.format import MOST_PLAYERS, Format, Side, UnclearFormat

AS_WRITTEN = [
    "4v4+4", "GK+5v5+GK", "6v4+GK", "4(+2)v4(+2)", "5v2", "3v2", "1v1", "4v4+2in", "4v4+2in+2", "12", "8+GK",
    "8+2GK", "GK", "GK+5v5", "5v(5+GK)", "4v4v4", "GK+4v4v4+GK", "2v2v2v2", "GK+4(+2)v4(+2)+GK+2in", "3v3v(3+GK)",
]  # fmt: skip


@pytest.mark.parametrize("text", AS_WRITTEN)
def test_a_format_prints_as_it_was_written(text: str) -> None:
    assert str(Format.parse(text)) == text


def test_a_possession_game_with_outside_neutrals() -> None:
    game = Format.parse("4v4+4")
    assert game.sides == (Side(4), Side(4))
    assert (game.neutrals_inside, game.neutrals_outside) == (0, 4)
    assert (game.players, game.players_inside, game.players_outside) == (12, 8, 4)


def test_keepers_belong_to_the_ends_they_are_written_at() -> None:
    assert [side.keeper for side in Format.parse("GK+5v5+GK").sides] == [1, 1]
    assert [side.keeper for side in Format.parse("6v4+GK").sides] == [0, 1]
    assert [side.keeper for side in Format.parse("GK+6v4").sides] == [1, 0]
    assert [side.keeper for side in Format.parse("5v(5+GK)").sides] == [0, 1]


def test_keepers_are_players_but_not_inside() -> None:
    game = Format.parse("GK+5v5+GK")
    assert (game.players, game.players_inside, game.keepers) == (12, 10, 2)
    assert game.keeper_option == 1


@pytest.mark.parametrize(
    ("text", "options"),
    [("5v5+2", 6), ("4v4+4", 7), ("4(+2)v4(+2)", 5), ("5v2", 4), ("GK+5v5+GK", 4), ("12", 11), ("1v1", 0)],
)
def test_passing_options_are_team_mates_and_neutrals(text: str, options: int) -> None:
    # 4v4+4 has seven, and with each side's own outside players five: common practice, no source.
    assert Format.parse(text).passing_options == options


@pytest.mark.parametrize(
    ("text", "overload"),
    [("5v5+2", 1.4), ("4v4+4", 2.0), ("2v1", 2.0), ("2v2", 1.0), ("6v4+GK", 1.5), ("GK+5v5+GK", 1.0)],
)
def test_overload_leaves_keepers_out(text: str, overload: float) -> None:
    assert Format.parse(text).overload == overload


def test_overload_is_undefined_without_opponents() -> None:
    assert Format.parse("12").overload is None


@pytest.mark.parametrize(
    ("loose", "tidy"),
    [
        (" 4 V 4 + 4 ", "4v4+4"), ("4×4", "4v4"), ("4 vs. 4", "4v4"), ("gk + 5v5 + Gk", "GK+5v5+GK"),
        ("4v4+1 inside", "4v4+1in"), ("4v4+2 outside", "4v4+2"), ("(5+GK)v5", "GK+5v5"), ("4v4+2+2in", "4v4+2in+2"),
    ],
)  # fmt: skip
def test_loose_writing_is_understood(loose: str, tidy: str) -> None:
    assert str(Format.parse(loose)) == tidy


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", "numbers are missing"),
        ("5v5+GK", "whose keeper"),
        ("4v4v4+GK", "whose keeper"),
        ("4v", "missing beside the v"),
        ("0v4", "0 players is nobody"),
        ("4+4v4", "floaters stand at the end"),
        ("4v4+", "missing after the +"),
        ("4v4+2on", '"+2on" is unclear'),
        ("4v4v4v4v4", "at most 4 sides"),
        ("GK+GK+4v4", "side 1 has 2 keepers"),
        ("GK+4+GKv4", "GK before a v"),
        ("4vGK+4", "GK after a v"),
        ("61", "more than 60"),
        ("30v30+2", "62 is more than 60"),
        ("9" * 40 + "v2", "more than 60"),
        ("4v(4", "bracket"),
        ("GKv4", "side 1 has nobody inside"),
        ("٣v2", "not a number"),
        ("four", "not a number"),
        ("4v4" + "+1" * 40, "too long"),
    ],
)
def test_unclear_text_is_refused_naming_what_is_unclear(text: str, names: str) -> None:
    with pytest.raises(UnclearFormat, match=names.replace("+", r"\+")):
        Format.parse(text)


def test_of_builds_what_parse_reads() -> None:
    assert Format.of(4, 4, neutrals_outside=4) == Format.parse("4v4+4")
    assert Format.of(Side(4, 2), Side(4, 2)) == Format.parse("4(+2)v4(+2)")


def test_impossible_numbers_name_the_field() -> None:
    with pytest.raises(ValueError, match="outside"):
        Side(4, outside=-1)
    with pytest.raises(ValueError, match="neutrals"):
        Format.of(4, 4, neutrals_inside=-1)
    with pytest.raises(ValueError, match="sides"):
        Format(())


sides_with_opponents = st.lists(
    st.builds(Side, inside=st.integers(1, 9), outside=st.integers(0, 3), keeper=st.integers(0, 1)),
    min_size=2,
    max_size=4,
)
groups = st.lists(
    st.builds(Side, inside=st.integers(1, 12), outside=st.just(0), keeper=st.integers(0, 3)),
    min_size=1,
    max_size=1,
)
formats = st.builds(
    lambda sides, inside, outside: Format(tuple(sides), inside, outside),
    st.one_of(sides_with_opponents, groups),
    st.integers(0, 3),
    st.integers(0, 4),
)


@given(formats)
def test_every_format_survives_writing_and_reading(game: Format) -> None:
    assert Format.parse(str(game)) == game
    assert game.players == game.players_inside + game.players_outside + game.keepers


@given(st.text(alphabet="0123456789v+()GKinx ", max_size=25))
def test_any_text_is_read_or_refused_as_unclear(text: str) -> None:
    try:
        game = Format.parse(text)
    except UnclearFormat:
        return
    assert 1 <= game.players <= MOST_PLAYERS
    assert Format.parse(str(game)) == game
