"""A wish as the request that the solver takes. Part keys are their numbers, as people count them."""

from collections.abc import Mapping

from sessions.planning.assemble import PartWish, Pin, Request, Weights
from sessions.planning.order import DEFAULT_ORDER, slices
from sessions.proposals.wish import Wish, WishedPart

LEAST_SHARE, MOST_SHARE = 0.6, 1.6  # of a part's usual share of the minutes
SHORTEST, ENOUGH, ROOM_UP_TO = 5, 12, 20  # minutes: never less; always enough; never an upper limit below


def kept_rung(part: str) -> str:
    """The variation of the offer that stands for a part of the session that stays; also its drill where it has none."""
    return f"kept {part}"


def request_of(wish: Wish, kept: Mapping[str, tuple[str, int]]) -> Request:
    """The solver's request; `kept` has the drill and minutes of each part that stays. Raises ValueError for what `Wish.problems` refuses."""
    usual = usual_minutes(wish)
    return Request(
        minutes=wish.minutes,
        players=wish.players,
        parts=tuple(_part(index, part, usual[index]) for index, part in enumerate(wish.parts)),
        length_m=wish.length,
        width_m=wish.width,
        adults=wish.adults,
        kit=wish.kit,
        load_au=wish.load_au,
        k=wish.k,
        hardest_cr10=wish.hardest,
        headers=wish.headers,
        set_up_minutes=wish.set_up_minutes,
        clear_minutes=wish.clear_minutes,
        changeover_minutes=wish.changeover_minutes,
        same_cones_minutes=min(1, wish.changeover_minutes),
        themes={theme: 1.0 if at == 0 else 0.5 for at, theme in enumerate(wish.themes)},
        pins=tuple(pin for index, part in enumerate(wish.parts) if (pin := _pin(index, part, kept))),
        banned=frozenset(wish.banned),
        weights=Weights().counting(wish.weights),
    )


def part_key(index: int) -> str:
    """What a part is called in a request and its reasons: its number."""
    return str(index + 1)


def usual_minutes(wish: Wish) -> list[int]:
    """The minutes that each part has when the session is shared out as usual."""
    kinds = [part.kind for part in wish.parts] or list(DEFAULT_ORDER)
    shared = slices(
        kinds,
        minutes=wish.minutes,
        clear_minutes=min(wish.clear_minutes, wish.minutes),
        changeover_s=wish.changeover_minutes * 60,
    )
    return [each.minutes for each in shared]


def _part(index: int, part: WishedPart, usual: int) -> PartWish:
    least = part.least or min(ENOUGH, max(SHORTEST, int(usual * LEAST_SHARE)))
    most = max(least, part.most or max(ROOM_UP_TO, round(usual * MOST_SHARE)))
    return PartWish(part_key(index), part.kind, least, most, part.keepers_apart)


def _pin(index: int, part: WishedPart, kept: Mapping[str, tuple[str, int]]) -> Pin | None:
    if part.kept is not None:
        rung = kept_rung(part.kept.part)
        drill, minutes = kept.get(part.kept.part, (rung, None))
        return Pin(part_key(index), drill=drill, variation=rung, minutes=minutes)
    return Pin(part_key(index), drill=part.drill, variation=part.rung) if part.drill else None
