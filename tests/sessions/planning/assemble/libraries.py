"""Invented libraries of any size, the same for the same seed."""

import random

from sessions.planning.assemble.library import Offer, Way
from sessions.planning.assemble.request import PartWish, Request

PARTS = (
    PartWish("arrival", "arrival", 6, 12),
    PartWish("warm-up", "warm-up", 6, 12),
    PartWish("first practice", "practice", 10, 22),
    PartWish("second practice", "practice", 10, 22),
    PartWish("game", "game", 12, 26),
)
EFFORTS = {"arrival": (20, 40), "warm-up": (30, 50), "practice": (35, 75), "game": (45, 80)}
THEMES = ("passing", "pressing", "finishing", "building up", "turning over")


def way(chance: random.Random, players: int, sizes: int) -> Way:
    length, width = 20 + 5 * chance.randrange(sizes), 15 + 5 * chance.randrange(max(1, sizes // 2))
    return Way(
        players=players,
        format="7v7",
        length_m=length,
        width_m=width,
        adults=chance.choice((1, 1, 1, 2)),
        kit={"cones": chance.randrange(4, 24), "mini goals": chance.choice((0, 0, 2, 4))},
        playing_share=chance.choice((0.6, 0.7, 0.8, 0.9, 1.0)),
        distance=round(chance.random() * 0.8, 2),
        cones=f"{length}x{width}",
    )


def offer(chance: random.Random, number: int, rungs: int, sizes: int) -> Offer:
    kind = chance.choice(("arrival", "warm-up", "practice", "practice", "practice", "game", "game"))
    low, high = EFFORTS[kind]
    least = chance.choice((6, 8) if kind in ("arrival", "warm-up") else (10, 12, 15))
    return Offer(
        key=f"offer {number}",
        drill=f"drill {number // rungs}",
        variation=f"rung {number % rungs}",
        title=f"Drill {number}",
        kinds=frozenset({kind, *chance.choice(((), (), ("practice",), ("game",)))}),
        effort_cr10=chance.randrange(low, high + 1, 5) / 10,
        ways=tuple(way(chance, 14, sizes) for _ in range(chance.randint(1, 2))),
        least_minutes=least,
        most_minutes=least + chance.choice((4, 8, 12)),
        step_minutes=chance.choice((1, 2, 4)),
        set_up_minutes=chance.randrange(6),
        headers_per_player=chance.choice((0, 0, 0, 0, 2, 4)),
        themes={theme: chance.choice((0.3, 0.5, 1.0)) for theme in chance.sample(THEMES, 2)},
        rating=chance.choice((None, 0.2, 0.5, 0.8, 1.0)),
        last_week="one rung up" if number % 1250 == 7 else "same rung" if number % 1250 == 6 else "",
    )


def library(seed: int, offers: int, *, rungs: int = 3, sizes: int = 8) -> tuple[Offer, ...]:
    chance = random.Random(seed)
    return tuple(offer(chance, number, rungs, sizes) for number in range(offers))


def request(**changed: object) -> Request:
    """75 minutes for fourteen under-12s, with every limit near enough to count."""
    given: dict[str, object] = {
        "minutes": 75,
        "players": 14,
        "parts": PARTS,
        "length_m": 50,
        "width_m": 30,
        "adults": 2,
        "kit": {"cones": 20, "mini goals": 4},
        "load_au": 330,
        "hardest_cr10": 7.5,
        "headers": 5,
        "set_up_minutes": 2,
        "themes": {"passing": 1.0, "turning over": 0.5},
    }
    return Request(**(given | changed))  # type: ignore[arg-type]
