"""The least that brings a week under, against every choice there is."""

import math
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.plan import PlannedPart
from sessions.planning.trim import NearbyGame, Offers, Trim, TrimChange, changes_of, offers_of, trim, ways

GAME = PlannedPart("game", 30, 7, "Game", bouts=3, rest_s=60, easier_cr10=6)
RONDO = PlannedPart("rondo", 12, 5, "Rondo", easier_cr10=4)
END = PlannedPart("end", 10, 3, "Penalties", changeover_s=60)


def offers(*sessions: tuple[list[list[float]], float | None]) -> list[Offers]:
    """Made-up savings: of each part of each session, and of leaving it out."""
    return [
        Offers(
            tuple(
                tuple(TrimChange(f"{s}-{p}", "Part", "shorter", 5, saving, str(s)) for saving in part)
                for p, part in enumerate(parts)
            ),
            None if whole is None else TrimChange("", "Session", "session", 1, whole, str(s)),
        )
        for s, (parts, whole) in enumerate(sessions)
    ]


def every_choice(given: list[Offers]) -> list[tuple[int, int, int]]:
    """(sessions left out, changes, tenths taken off) of all there is, by exhaustion."""
    of_each = []
    for each in given:
        choices = [
            (
                0,
                sum(1 for one in picked if one),
                sum(math.floor(one.saving_au * 10 + 1e-5) for one in picked if one),
            )
            for picked in product(*([None, *part] for part in each.parts))
        ]
        if each.left_out:
            choices.append((1, 0, math.floor(each.left_out.saving_au * 10 + 1e-5)))
        of_each.append(choices)
    return [tuple(map(sum, zip((0, 0, 0), *picked, strict=True))) for picked in product(*of_each)]  # type: ignore[misc]


def costs(found: Trim) -> tuple[int, int, int]:
    out = sum(1 for each in found.changes if each.kind == "session")
    return (
        out,
        len(found.changes) - out,
        sum(math.floor(each.saving_au * 10 + 1e-5) for each in found.changes),
    )


au = st.integers(1, 600).map(lambda tenths: tenths / 10)
sessions = st.lists(
    st.tuples(st.lists(st.lists(au, max_size=3), max_size=3), st.none() | au), max_size=3
).filter(
    lambda made: math.prod((math.prod(len(part) + 1 for part in parts) + 1) for parts, _ in made) < 20_000
)


@settings(max_examples=150, deadline=None)
@given(sessions, st.integers(1, 1500).map(lambda tenths: tenths / 10))
def test_it_is_exact_against_every_choice(
    made: list[tuple[list[list[float]], float | None]], over: float
) -> None:
    given_offers = offers(*made)
    enough = [each for each in every_choice(given_offers) if each[2] >= round(over * 10)]
    found = trim(over, given_offers)
    assert found.is_enough is bool(enough)
    if enough:
        assert costs(found) == min(enough)
        assert found.left_over_au == 0
    else:
        assert costs(found)[2] == max(each[2] for each in every_choice(given_offers))
        assert found.left_over_au == pytest.approx(over - found.saving_au)
    for session in {
        each.session for each in found.changes
    }:  # nothing is taken off what is left out, no part twice
        own = [each for each in found.changes if each.session == session]
        assert len({each.part for each in own}) == len(own)
        assert len(own) == 1 or all(each.kind != "session" for each in own)


@settings(max_examples=80, deadline=None)
@given(sessions, st.integers(1, 1500).map(lambda tenths: tenths / 10))
def test_the_second_way_is_the_least_with_a_session_left_out(
    made: list[tuple[list[list[float]], float | None]], over: float
) -> None:
    given_offers = offers(*made)
    found = ways(over, given_offers)
    enough = [each for each in every_choice(given_offers) if each[2] >= round(over * 10)]
    leaving = [each for each in enough if each[0] >= 1]
    assert costs(found[0]) == (min(enough) if enough else costs(trim(over, given_offers)))
    if len(found) == 2:
        assert costs(found[1]) == min(leaving)
    else:
        assert not leaving or min(enough)[0] >= 1


def test_rounds_before_minutes_and_never_less_than_needed() -> None:
    found = trim(35, [offers_of([GAME, RONDO])])
    # a round off the game is (28/3 + 1) min, of which 10 whole ones go: 70 AU; a shorter or easier rondo saves less than 35
    assert [(each.part, each.kind, each.size, each.minutes) for each in found.changes] == [
        ("game", "bouts", 1, 10)
    ]
    assert found.reasons[0].text == "Drop 1 round of Game: takes off all of that."


def test_an_easier_variation_a_shorter_part_and_the_last_part() -> None:
    assert [(each.kind, each.size, each.saving_au) for each in changes_of(RONDO)] == [
        ("rung", 1, 12),
        ("shorter", 5, 25),
    ]
    last = offers_of([GAME, RONDO, END], 2.0).parts[-1]
    assert [(each.kind, each.saving_au) for each in last] == [("shorter", 30), ("part", 62)]
    assert {each.kind for each in offers_of([GAME, RONDO]).parts[-1]} == {"rung", "shorter"}


def test_what_is_not_enough_says_what_stays() -> None:
    found = trim(500, [offers_of([GAME])])
    assert (found.is_enough, found.reasons[-1].code) == (False, "trim_impossible")
    assert [each.code for each in trim(10, []).reasons] == ["trim_nothing"]
    assert trim(0, [offers_of([GAME])]) == Trim(0, (), 0, 0)


def test_the_day_after_a_tournament_leaving_out_comes_first() -> None:
    after = NearbyGame("after", "tournament", "Autumn Cup")
    tired = offers_of([GAME], session="a", title="Sun: Finishing", total_au=210, beside=after)
    other = offers_of([GAME], session="b", title="Thu: Pressing", total_au=150)
    first, second = ways(60, [other, tired])
    assert [each.session for each in first.changes] == ["a"]
    assert first.reasons[0].text == (
        "Leave out Sun: Finishing, the day after a tournament (Autumn Cup): takes off all of that."
    )
    assert [each.kind for each in second.changes] == ["bouts"]
    least, leaving = ways(60, [other, offers_of([GAME], session="a", total_au=210)])
    assert [each.kind for each in least.changes] == ["bouts"]
    assert [(each.kind, each.session) for each in leaving.changes] == [("session", "b")]


def test_a_long_week_is_answered_at_once() -> None:
    parts = [PlannedPart(f"p{i}", 20, 5 + i / 7, bouts=8, rest_s=17 * i, easier_cr10=4) for i in range(6)]
    given_offers = [offers_of(parts, 1.0 + day / 13, session=str(day), total_au=700) for day in range(6)]
    found = trim(2345.6, given_offers)
    assert found.is_enough
    assert found.saving_au >= 2345.6
