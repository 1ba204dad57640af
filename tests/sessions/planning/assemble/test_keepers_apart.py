"""One part with the keepers at a station of their own, against every session that can be made of both stations."""

import random
from dataclasses import replace

import pytest

from sessions.planning.assemble import Apart, Offer, PartWish, Request, Way, apart, assemble
from tests.sessions.planning.assemble import oracle
from tests.sessions.planning.assemble.libraries import THEMES, way
from tests.sessions.planning.assemble.test_exhaustive import PARTS, small

KEEPERS = 2
NOBODY = Way(1, "", 0, 0)


def station(chance: random.Random, number: int) -> Apart:
    """A drill for two keepers; what the others do meanwhile is still open."""
    length, width = chance.choice(((8, 6), (14, 14), (20, 12)))
    return Apart(
        drill=f"keepers {number}",
        title=f"Keepers {number}",
        others=NOBODY,
        keepers=Way(
            KEEPERS,
            "1+GK",
            length,
            width,
            adults=chance.choice((0, 1, 1, 2)),
            kit={"cones": chance.randrange(6), "mini goals": chance.choice((0, 0, 2))},
            playing_share=chance.choice((0.5, 1.0)),
            distance=round(chance.random() * 0.8, 2),
        ),
        effort_cr10=chance.choice((4.0, 6.0, 7.5)),
        set_up_minutes=chance.randrange(8),
        headers_per_player=chance.choice((0, 0, 5)),
        themes={chance.choice(THEMES): 1.0},
        rating=chance.choice((None, 0.2, 0.9)),
    )


def evening(seed: int) -> tuple[Request, tuple[Offer, ...], oracle.Stations]:
    """A small evening with the first or second part for it."""
    chance = random.Random(1000 + seed)
    asked, offers = small(seed)
    at = chance.randrange(len(asked.parts) - 1)
    parts = [replace(part, keepers_apart=index == at) for index, part in enumerate(asked.parts)]
    banned = {*asked.banned, *({"keepers 0"} if chance.random() < 0.3 else ())}
    asked = replace(
        asked, parts=tuple(parts), pins=(), adults=chance.choice((1, 2, 2, 3)), banned=frozenset(banned)
    )
    others = {
        each.key: tuple(way(chance, asked.players - chance.choice((2, 2, 2, 3)), 6) for _ in range(2))
        for each in offers
    }
    return asked, offers, oracle.Stations(tuple(station(chance, n) for n in range(3)), others)


def offered(asked: Request, offers: tuple[Offer, ...], stations: oracle.Stations) -> tuple[Offer, ...]:
    """The library with both stations as one way."""
    free = {"length_m": asked.length_m, "width_m": asked.width_m}
    return tuple(
        replace(
            offer,
            ways=(
                *offer.ways,
                *(
                    apart(replace(keepers, others=others), **free)
                    for keepers in stations.keepers
                    for others in stations.others[offer.key]
                ),
            ),
        )
        for offer in offers
    )


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_the_best_session_is_found_and_proven(first: int) -> None:
    made = 0
    for seed in range(first, first + 20):
        asked, offers, stations = evening(seed)
        proposal = assemble(asked, offered(asked, offers, stations), seconds=5, alternatives=0)
        assert proposal.proven, seed
        expected = oracle.best_points(asked, offers, stations)
        assert (proposal.objective is None) == (expected is None), seed
        if expected is not None:
            made += 1
            assert proposal.objective == pytest.approx(expected, abs=0.005), seed
            assert [part.way.apart is not None for part in proposal.parts] == [
                part.keepers_apart for part in asked.parts
            ]
    assert made >= 3


def test_each_station_has_an_adult_its_kit_and_its_ground() -> None:
    keepers = Way(2, "1+GK", 14, 14, adults=0, kit={"cones": 4, "goals": 1}, playing_share=0.5)
    others = Way(10, "5v5", 30, 20, adults=1, kit={"cones": 8}, cones="30x20", distance=0.6)
    stations = Apart("k", "Hands", keepers, others, 4.0)
    found = apart(stations, length_m=50, width_m=20)
    assert (found.players, found.adults, found.kit) == (12, 2, {"cones": 12, "goals": 1})
    assert (found.length_m, found.width_m, found.cones) == (47, 20, "")
    assert (found.playing_share, found.distance) == (pytest.approx(11 / 12), pytest.approx(0.5))
    # Turned where that helps; a metre less either way, and they do not fit.
    turned = apart(stations, length_m=30, width_m=37)
    assert (turned.length_m, turned.width_m) == (37, 30)
    tight = apart(stations, length_m=46, width_m=29)
    assert tight.length_m > 46 or tight.width_m > 29


def test_nothing_for_the_keepers_is_said_so_and_twice_is_an_error() -> None:
    asked, offers, _none = evening(0)
    proposal = assemble(asked, offers, seconds=5)
    assert [each.code for each in proposal.reasons] == ["clash_part_keepers"]
    with pytest.raises(ValueError, match="one part at most"):
        replace(asked, parts=tuple(replace(part, keepers_apart=True) for part in PARTS))
    plain = PartWish("only", "practice", keepers_apart=True)
    stations = Apart("drill 1", "Theirs and everybody's", NOBODY, NOBODY, 4.0)
    twice = replace(offers[0], ways=(apart(stations, length_m=9, width_m=9),))
    with pytest.raises(ValueError, match="keepers apart"):
        assemble(replace(asked, parts=(plain,)), (twice, *offers[1:]), seconds=1)
