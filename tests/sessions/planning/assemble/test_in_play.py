"""Floors of players in play: in each part beyond what a queue plans, and over all minutes, against every session."""

from dataclasses import replace

import pytest

from sessions.planning.assemble import Offer, PartWish, Request, Way, assemble
from tests.sessions.planning.assemble import oracle
from tests.sessions.planning.assemble.test_exhaustive import small

PARTS = (PartWish("first", "practice", 6, 20), PartWish("second", "game", 6, 30))


def request(**changes: object) -> Request:
    given = {"minutes": 60, "players": 12, "parts": PARTS, "length_m": 40, "width_m": 30}
    return Request(**(given | changes))  # type: ignore[arg-type]


def offer(key: str, share: float, *kinds: str, planned: float = 0.0, least: int = 6, most: int = 20) -> Offer:
    way = Way(12, "6v6", 20, 15, playing_share=share, off_by_plan=planned)
    return Offer(key, key, key, frozenset(kinds), 5, (way,), least_minutes=least, most_minutes=most)


def test_a_part_below_the_floor_is_no_choice_unless_its_queue_plans_it() -> None:
    game = offer("game", 1.0, "game")
    found = assemble(request(), (offer("crowd", 0.6, "practice"), game), seconds=5)
    assert (found.parts, found.clash, found.proven) == ((), ("in_play",), True)
    reason = found.reasons[0]
    assert (reason.text, reason.part) == ("5 of 12 would wait in part first.", "first")
    planned = offer("pairs", 0.6, "practice", planned=0.5)
    assert [part.offer.key for part in assemble(request(), (planned, game), seconds=5).parts] == [
        "pairs",
        "game",
    ]


def test_the_session_makes_good_for_a_part_with_longer_play_elsewhere() -> None:
    pairs, game = (
        offer("pairs", 0.5, "practice", planned=0.5, least=12, most=20),
        offer("game", 1.0, "game", most=30),
    )
    found = assemble(request(), (pairs, game), seconds=5)
    played = sum(part.minutes * part.way.playing_share for part in found.parts)
    assert played >= 0.75 * sum(part.minutes for part in found.parts)
    assert [part.minutes for part in found.parts][1] >= 12
    short = request(parts=(PARTS[0], replace(PARTS[1], most_minutes=11)))
    none = assemble(short, (pairs, game), seconds=5)
    assert (none.parts, none.clash) == ((), ("in_play_all",))
    assert assemble(short.without("in_play_all"), (pairs, game), seconds=5).parts


@pytest.mark.parametrize("first", range(0, 120, 30))
def test_clashes_with_floors_are_told_where_longer_minutes_would_help(first: int) -> None:
    """Minutes are free to choose here, so that the session's floor asks for more than the fewest."""
    clashes = 0
    for seed in range(first, first + 30):
        asked, offers = small(seed)
        offers = tuple(_off_more(each, at) for at, each in enumerate(offers))
        proposal = assemble(asked, offers, seconds=5, alternatives=0)
        expected = oracle.best_points(asked, offers)
        assert proposal.proven, seed
        assert (proposal.objective is None) == (expected is None), seed
        if expected is not None:
            assert proposal.objective == pytest.approx(expected, abs=0.005), seed
            continue
        if proposal.clash[0].startswith("part:"):
            continue
        clashes += 1
        for name in proposal.clears:
            if name.startswith("pin:"):
                continue  # the oracle takes pins away otherwise
            assert oracle.best_points(asked.without(name), offers) is not None, (seed, name)
        for name in {"in_play", "in_play_all"} - set(proposal.clears):
            if set(proposal.clash) == {name}:
                assert oracle.best_points(asked.without(name), offers) is not None, (seed, name)
    assert clashes


def _off_more(each: Offer, at: int) -> Offer:
    """Half of the library leaves many off, as planned, so that the floor of the session counts."""
    if at % 2:
        return each
    ways = tuple(replace(way, playing_share=0.5, off_by_plan=0.5) for way in each.ways)
    return replace(each, ways=ways)


@pytest.mark.parametrize("wrong", [-0.1, 1.1])
def test_a_floor_is_a_share(wrong: float) -> None:
    with pytest.raises(ValueError, match="in_play"):
        request(in_play=wrong)
    with pytest.raises(ValueError, match="in_play_all"):
        request(in_play_all=wrong)
    with pytest.raises(ValueError, match="off_by_plan"):
        Way(12, "6v6", 20, 15, off_by_plan=wrong)
