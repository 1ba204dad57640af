"""Keepers who work apart are in sight of a second adult. The rule is common practice in safeguarding, no single source."""

from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.sight import StationAt, sight_reasons

KEEPERS, OTHERS = StationAt("Mill Field", keepers=True), StationAt("Mill Field")
AWAY = StationAt("The Cage")


def codes(*stations: StationAt, adults: int = 2) -> list[str]:
    return [each.code for each in sight_reasons("p", stations, adults)]


def test_on_the_same_pitch_as_others_nothing_is_said() -> None:
    assert codes(KEEPERS, OTHERS) == []


def test_on_another_pitch_it_is_said_with_what_clears_it() -> None:
    (found,) = sight_reasons("p", (KEEPERS, AWAY), 2)
    assert found.text == "The keepers work separately on Mill Field, out of sight of a second adult."
    assert [each.text for each in found.clears] == [
        "Put them on the same pitch, or stand a second adult with the keepers."
    ]


def test_with_one_adult_who_counts_there_is_no_second_one() -> None:
    (found,) = sight_reasons("p", (KEEPERS, OTHERS), 1)
    assert (found.code, found.clears[0].text) == ("keepers_no_second", "1 more would do.")


def test_an_adult_beside_them_who_does_not_count_is_none() -> None:
    assert codes(KEEPERS, StationAt("Mill Field", counts=False)) == ["keepers_no_second"]


def test_what_has_no_place_yet_is_not_held_against_them() -> None:
    assert codes(KEEPERS, StationAt("")) == []
    assert codes(StationAt("", keepers=True), AWAY) == []


STATIONS = st.lists(
    st.builds(StationAt, st.sampled_from(["", "a", "b"]), st.booleans(), st.booleans()), max_size=5
)


@given(STATIONS, st.integers(0, 6))
def test_said_exactly_where_no_counted_adult_is_near(stations: list[StationAt], adults: int) -> None:
    """Asked the other way round: for each keepers' station, is there another one on its ground with an adult who counts?"""
    alone = 0
    for index, each in enumerate(stations):
        if not each.keepers or len(stations) < 2:
            continue
        near = [
            other.counts
            for number, other in enumerate(stations)
            if number != index and (other.pitch == each.pitch or "" in (other.pitch, each.pitch))
        ]
        alone += adults < 2 or not any(near)
    assert len(sight_reasons("p", stations, adults)) == alone
