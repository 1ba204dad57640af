"""A session taken to several pieces of ground: the best for each drill, shared by stations at the same time."""

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.game.evening import Evening, Piece
from drills.game.fit import fit
from drills.game.playable import design_of
from sessions.planning.refit import Fitted, Target, carry
from tests.sessions.planning.refit.test_carry import GROUND, TARGET, at, codes, drill, part

WIDE, SMALL = Piece("Mill", 60, 20), Piece("Barn", 36, 30)
NARROW = at(TARGET, pieces=(WIDE,))


def ground_of(station: Fitted) -> Piece:
    assert station.evening is not None
    return station.evening.ground[0]


def distance(ground: Piece, players: int) -> float | None:
    found = fit(
        design_of(drill(), ""), players=players, length_m=ground.length_m, width_m=ground.width_m, most=1
    )
    return found[0].distance if found else None


def test_a_drill_goes_where_it_fits_best_and_says_so() -> None:
    # 30 × 24 m has no place on the larger, narrow piece as it is, but on the smaller one.
    (alone,) = carry([part(drill())], NARROW)
    (found,) = carry([part(drill())], at(NARROW, pieces=(WIDE, SMALL)))
    assert alone.stations[0].setup is not None
    assert codes([alone]) == ["carry_setup"]
    assert (found.stations[0].place, ground_of(found.stations[0])) == ("Barn", SMALL)
    assert codes([found]) == ["carry_place"]
    assert "Barn" in found.changes[0].text


def test_where_all_are_alike_the_first_is_taken_and_said_unless_it_was_there() -> None:
    two = at(TARGET, pieces=(replace(GROUND, key="A"), Piece("B", 40, 30)))
    (found,) = carry([part(drill())], two)
    assert (found.stations[0].place, codes([found])) == ("A", ["carry_place"])
    (again,) = carry([part(drill(), place="A")], two)
    assert (again.stations[0].place, codes([again])) == ("A", [])


@settings(max_examples=30, deadline=None)
@given(
    sides=st.lists(st.tuples(st.integers(12, 50), st.integers(10, 40)), min_size=1, max_size=3),
    players=st.integers(8, 18),
)
def test_no_piece_is_better_than_the_one_taken(sides: list[tuple[int, int]], players: int) -> None:
    plain: dict[str, Any] = {"variations": []}
    grounds = [Piece(str(number), *each) for number, each in enumerate(sides)]
    target = Target(Evening(players, adults=1, pieces=tuple(grounds)), minutes=75)
    (found,) = carry([part(drill(**plain))], target)
    off = [each for ground in grounds if (each := distance(ground, players)) is not None]
    setup = found.stations[0].setup
    assert (setup is None) == (not off)
    if setup is not None:
        assert setup.distance == pytest.approx(min(off))


def test_stations_at_the_same_time_share_grounds_and_players() -> None:
    three = [part(drill(), "a"), part(drill(), "b", part="a"), part(drill(), "c", part="a")]
    mill = Piece("Mill", 80, 30)
    both = at(TARGET, players=26, pieces=(mill, Piece("Barn", 40, 30)))
    (found,) = carry(three, both)
    assert [each.evening.players for each in found.stations if each.evening] == [9, 9, 8]
    assert sorted(each.place for each in found.stations) == ["Barn", "Mill", "Mill"]
    assert {(each.length_m, each.width_m) for each in map(ground_of, found.stations)} == {(40, 30)}
    (one,) = carry(three, at(both, pieces=(mill,)))
    assert [each.place for each in one.stations] == [""] * 3
    lengths = [ground_of(each).length_m for each in one.stations]
    assert all(a == b == pytest.approx(80 / 3) for a, b in pairwise(lengths))
