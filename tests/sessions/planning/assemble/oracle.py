"""The rules of a session written down a second time, over all choices: tried one and all, without a solver."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations, pairwise, product

import numpy as np

from sessions.planning.assemble import Apart, Offer, Request, Way

Pick = tuple[Offer, Way, int]


@dataclass(frozen=True)
class Stations:
    """What a part with the keepers apart is made of: keepers' stations (what the others do there is left open), and by
    offer the ways for the others."""

    keepers: tuple[Apart, ...] = ()
    others: Mapping[str, tuple[Way, ...]] = field(default_factory=dict)


NONE = Stations()


def runs(
    request: Request, library: tuple[Offer, ...], at: int, stations: Stations
) -> Iterator[tuple[Offer, Way]]:
    """Every way to run every offer in this part."""
    if not request.parts[at].keepers_apart:
        yield from ((offer, way) for offer in library for way in offer.ways)
        return
    for offer, keepers in product(library, stations.keepers):
        for others in stations.others.get(offer.key, ()):
            if may_stand(request, keepers, others):
                yield both(request, offer, keepers, others)


def may_stand(request: Request, keepers: Apart, others: Way) -> bool:
    """Limits of two stations at once that the sums of `both` don't show."""
    held, way = request.holds, keepers.keepers
    sides = (request.length_m, request.width_m), (request.width_m, request.length_m)
    turns = [((w.length_m, w.width_m), (w.width_m, w.length_m)) for w in (way, others)]
    room = any(
        one[0] + 3 + two[0] <= along and max(one[1], two[1]) <= across
        for (along, across), one, two in product(sides, *turns)
    )
    return (
        (room or not held("space"))
        and (not held("hardest") or keepers.effort_cr10 <= request.hardest_cr10)
        and (not held("banned") or keepers.drill not in request.banned)
    )


def both(request: Request, offer: Offer, keepers: Apart, others: Way) -> tuple[Offer, Way]:
    """Two stations as if they were one drill on no room at all: averages over the players, sums of kit and adults."""
    way, count = keepers.keepers, keepers.keepers.players + others.players

    def mean(mine: float, theirs: float) -> float:
        return (mine * way.players + theirs * others.players) / count

    def on_theme(themes: Mapping[str, float]) -> float:
        return min(1.0, sum(w * themes.get(theme, 0) for theme, w in request.themes.items()))

    def rated(rating: float | None) -> float:
        return 0.5 if rating is None else rating

    first = next(iter(request.themes))
    assert request.themes[first] == 1
    kinds = {*way.kit, *others.kit}
    made = replace(
        offer,
        headers_per_player=max(offer.headers_per_player, keepers.headers_per_player),
        set_up_minutes=offer.set_up_minutes + keepers.set_up_minutes,
        themes={first: mean(on_theme(keepers.themes), on_theme(offer.themes))},
        rating=mean(rated(keepers.rating), rated(offer.rating)),
    )
    return made, Way(
        players=count,
        format="",
        length_m=0,
        width_m=0,
        adults=max(1, way.adults) + max(1, others.adults),
        kit={kind: way.kit.get(kind, 0) + others.kit.get(kind, 0) for kind in kinds},
        playing_share=mean(way.playing_share, others.playing_share),
        distance=mean(way.distance, others.distance),
    )


def picks(request: Request, library: tuple[Offer, ...], at: int, stations: Stations = NONE) -> Iterator[Pick]:
    part = request.parts[at]
    pin = next((each for each in request.pins if each.part == part.key), None)
    for offer, way in runs(request, library, at, stations):
        pinned = pin is not None and pin.drill is not None and pin.drill == offer.drill
        spells = set(range(offer.least_minutes, offer.most_minutes + 1, offer.step_minutes))
        spells &= set(range(part.least_minutes, part.most_minutes + 1))
        if pin and pin.minutes:
            spells = {pin.minutes}
        if pin and pin.drill and not pinned:
            continue
        if part.kind in offer.kinds or pinned:
            yield from ((offer, way, minutes) for minutes in sorted(spells) if alone(request, offer, way))


def alone(request: Request, offer: Offer, way: Way) -> bool:
    """Limits that a single drill can break."""
    held = request.holds
    room = sorted((request.length_m, request.width_m)), sorted((way.length_m, way.width_m))
    stock = request.kit or {}
    return all(
        (
            not held("turn_out") or way.players == request.players,
            not held("space") or (room[1][0] <= room[0][0] and room[1][1] <= room[0][1]),
            not held("adults") or way.adults <= request.adults,
            not held("hardest") or offer.effort_cr10 <= request.hardest_cr10,
            not held("banned") or offer.drill not in request.banned,
            *(n <= stock[kind] for kind, n in way.kit.items() if kind in stock and held(f"kit:{kind}")),
        )
    )


def stays(chosen: tuple[Pick, ...]) -> list[bool]:
    cones = [way.cones for _, way, _ in chosen]
    return [bool(now) and now == before for before, now in pairwise(cones)]


def points(request: Request, chosen: tuple[Pick, ...]) -> float:
    weights, total = request.weights, 0.0
    for offer, way, minutes in chosen:
        on_theme = min(1.0, sum(w * offer.themes.get(theme, 0) for theme, w in request.themes.items()))
        rating = 0.5 if offer.rating is None else offer.rating
        total += minutes * (weights.theme * on_theme + weights.playing * way.playing_share)
        total += minutes * (weights.rating * rating + weights.minutes) - weights.fit * way.distance
        total += {"": 0.0, "same rung": 0.5, "one rung up": 1.0}[offer.last_week] * weights.last_week
    efforts = [offer.effort_cr10 for offer, *_ in chosen]
    falls = [
        sum(max(0, a - b) for a, b in pairwise(efforts[:peak]))
        + sum(max(0, b - a) for a, b in pairwise(efforts[peak - 1 :]))
        for peak in range(1, len(efforts) + 1)
    ]
    return total - weights.moves * stays(chosen).count(False) - weights.effort * min(falls)


def best_points(request: Request, library: tuple[Offer, ...], stations: Stations = NONE) -> float | None:
    """The most points of any allowed session; None when there is none."""
    every = [list(picks(request, library, at, stations)) for at in range(len(request.parts))]
    if not all(every):
        return None
    columns = [
        {
            **{name: np.array([get(*pick) for pick in picked]) for name, get in COLUMNS.items()},
            "set_up": np.array([before_start(request, at, offer, way) for offer, way, _ in picked]),
        }
        for at, picked in enumerate(every)
    ]
    alone = [np.array([points(request, (pick,)) for pick in picked]) for picked in every]
    shape = tuple(map(len, every))
    at = [index.reshape(-1) for index in np.indices(shape)]  # every choice of one pick a part
    of = {name: [column[name][i] for column, i in zip(columns, at, strict=True)] for name in columns[0]}
    fine, stay = _allowed(request, of)
    if not fine.any():
        return None
    score = sum(own[i] for own, i in zip(alone, at, strict=True))
    score = score - request.weights.moves * (len(every) - 1 - sum(stay[1:]))
    return float((score - request.weights.effort * _off_curve(of["effort"]))[fine].max())


LAY_S = {"marker cones": 8, "mini goals": 30, "moveable goals": 90, "balls": 0, "bibs": 0}


def before_start(request: Request, at: int, offer: Offer, way: Way) -> int:
    """Minutes before the start for one part: the first as its drill says, a later one beyond its changeover."""
    minutes, hands = offer.set_up_minutes * way.grids, request.adults or 1
    if at == 0:
        return -(-minutes // hands)
    seconds = min(60 * minutes, sum(LAY_S.get(kind, 15) * count for kind, count in way.kit.items()))
    return -(-max(0, seconds - hands * (60 * request.changeover_minutes + 15)) // (60 * hands))


COLUMNS = {
    "minutes": lambda offer, way, minutes: minutes,
    "effort": lambda offer, way, minutes: offer.effort_cr10,
    "headers": lambda offer, way, minutes: offer.headers_per_player,
    "cones": lambda offer, way, minutes: way.cones,
    "drill": lambda offer, way, minutes: offer.drill,
}


def _allowed(request: Request, of: dict[str, list[np.ndarray]]) -> tuple[np.ndarray, list[np.ndarray]]:
    """Which choices keep every limit, and where each part's cones stay."""
    held, cones = request.holds, of["cones"]
    nowhere = np.zeros(cones[0].shape, dtype=bool)
    stay = [nowhere, *((now != "") & (now == before) for before, now in pairwise(cones))]
    changing = sum(
        np.where(each, request.same_cones_minutes, request.changeover_minutes) for each in stay[1:]
    )
    minutes = sum(of["minutes"]) + changing + request.clear_minutes
    load_au = sum(e * m for e, m in zip(of["effort"], of["minutes"], strict=True)) + changing
    set_up = sum(np.where(still, 0, each) for each, still in zip(of["set_up"], stay, strict=True))
    fine = ~nowhere
    if held("minutes"):
        fine &= minutes <= request.minutes
    if held("load"):
        fine &= load_au * request.k <= request.load_au + 1e-6
    if held("headers"):
        fine &= sum(of["headers"]) <= request.headers
    if held("set_up"):
        fine &= set_up <= request.set_up_minutes
    if held("once"):
        for one, other in combinations(of["drill"], 2):
            fine &= one != other
    return fine, stay


def _off_curve(efforts: list[np.ndarray]) -> np.ndarray:
    """Falls before the peak and rises after it, with the peak where they are least."""
    steps = [after - before for before, after in pairwise(efforts)]
    peaks = [
        sum((np.maximum(0, -step) for step in steps[:peak]), np.zeros(efforts[0].shape))
        + sum((np.maximum(0, step) for step in steps[peak:]), np.zeros(efforts[0].shape))
        for peak in range(len(efforts))
    ]
    return np.min(peaks, axis=0)
