"""Last week's drills earn points in one part, or in a few for the youngest, against every session there is."""

import random
from dataclasses import replace

import pytest

from sessions.planning.assemble import Offer, PartWish, Request, Way, assemble
from sessions.planning.assemble.dominated import without_dominated
from sessions.planning.assemble.options import Option
from tests.sessions.planning.assemble import oracle
from tests.sessions.planning.assemble.test_exhaustive import small

WEEKS = ("", "same rung", "one rung up")
PARTS = tuple(PartWish(str(at), "practice", 10, 10) for at in range(3))


@pytest.mark.parametrize("first", range(0, 120, 30))
def test_the_best_session_is_found_with_much_of_last_week_on_offer(first: int) -> None:
    for seed in range(first, first + 30):
        chance = random.Random(seed)
        asked, offers = small(seed)
        asked = replace(asked, again=chance.choice((0, 1, 1, 2)))
        offers = tuple(replace(each, last_week=chance.choice(WEEKS)) for each in offers)
        proposal = assemble(asked, offers, seconds=5, alternatives=0)
        assert proposal.proven, seed
        expected = oracle.best_points(asked, offers)
        assert (proposal.objective is None) == (expected is None), seed
        if expected is not None:
            assert proposal.objective == pytest.approx(expected, abs=0.005), seed


def offer(number: int, last_week: str = "", *, rating: float | None = None) -> Offer:
    way = Way(12, "6v6", 20, 15)
    return Offer(
        f"o{number}",
        f"d{number}",
        f"D{number}",
        frozenset({"practice"}),
        5,
        (way,),
        last_week=last_week,  # type: ignore[arg-type]
        rating=rating,
    )


def request(**changes: object) -> Request:
    given = {"minutes": 60, "players": 12, "parts": PARTS, "length_m": 40, "width_m": 30}
    return Request(**(given | changes))  # type: ignore[arg-type]


@pytest.mark.parametrize(("again", "repeated"), [(0, 0), (1, 1), (2, 2), (3, 3)])
def test_so_many_parts_of_last_week_and_the_rest_is_new(again: int, repeated: int) -> None:
    """What is new is rated a little better here, so that it is chosen where last week earns nothing."""
    old = [offer(n, "one rung up") for n in range(4)]
    new = [offer(n, rating=0.6) for n in range(4, 8)]
    found = assemble(request(again=again), (*old, *new), seconds=5)
    assert sum(bool(part.offer.last_week) for part in found.parts) == repeated


def test_a_library_of_last_weeks_drills_alone_still_makes_a_session() -> None:
    assert len(assemble(request(), [offer(n, "same rung") for n in range(3)], seconds=5).parts) == 3


def test_what_is_worth_more_without_last_weeks_points_is_not_put_aside() -> None:
    plain = Option(0, 0, 0, 10, 9_000, 500, 50, 0, 0, 0, again=0, cones=0, drill=1, broken=frozenset())
    last_week = plain._replace(offer=1, drill=2, score=10_000, again=8_000)
    worse = plain._replace(offer=2, drill=3, score=8_000)
    assert without_dominated([[plain, last_week, worse]]) == [[plain, last_week]]
    assert without_dominated([[plain._replace(score=1_000), last_week]]) == [[last_week]]


def test_who_is_off_less_is_not_put_aside() -> None:
    most = Option(0, 0, 0, 10, 9_000, 500, 50, 0, 0, 900, again=0, cones=0, drill=1, broken=frozenset())
    fewer = most._replace(offer=1, drill=2, score=8_000, in_play_all=0)
    assert without_dominated([[most, fewer]]) == [[most, fewer]]
    assert without_dominated([[most, fewer._replace(in_play_all=900)]]) == [[most]]
