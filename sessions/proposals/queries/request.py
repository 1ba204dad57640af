"""What the solver is asked, and its answer as plain data."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any, Protocol

from sessions.planning.assemble import (
    Apart,
    AssembledSession,
    Offer,
    PartWish,
    Pin,
    Proposal,
    ProposedPart,
    Request,
    Way,
    WishWeights,
)
from sessions.planning.assemble.request import PIN
from sessions.planning.order import DEFAULT_ORDER, slices
from sessions.planning.reasons import PlanningReason, kept_reason, reason
from sessions.planning.rounds import on_the_clock
from sessions.proposals.wish import Wish, WishedPart

LEAST_SHARE, MOST_SHARE = 0.6, 1.6  # of a part's usual share of the minutes
SAME_GAME_UNDER = 8
SHORTEST, ENOUGH, ROOM_UP_TO = 5, 12, 20  # minutes: never less; always enough; never an upper limit below


class UsualRounds(Protocol):
    """How a drill is usually run: seconds of a round and of the rest between."""

    @property
    def bout_s(self) -> int: ...
    @property
    def rest_s(self) -> int: ...


def kept_rung(part: str) -> str:
    """The variation of the offer that stands for a part of the session that stays; also its drill where it has none."""
    return f"kept {part}"


def request_of(wish: Wish, kept: Mapping[str, tuple[str, int]]) -> Request:
    """The solver's request; `kept` has the drill and minutes of each part that stays. Raises ValueError for what `Wish.problems` refuses."""
    usual = usual_minutes(wish)
    length_m, width_m = wish.ground_m
    return Request(
        minutes=wish.minutes,
        players=wish.players,
        parts=tuple(_part(index, part, usual[index]) for index, part in enumerate(wish.parts)),
        length_m=length_m,
        width_m=width_m,
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
        again=_again(wish),
        weights=WishWeights().counting(wish.weights),
    )


def _again(wish: Wish) -> int:
    """Parts of last week that are worth repeating: one; half of them for U7 and U8, who need the same game for a few weeks
    (common practice, no source).
    """
    under = None if wish.ages is None else wish.ages.under_high
    return max(1, len(wish.parts) // 2) if under is not None and under <= SAME_GAME_UNDER else 1


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


def kept_answer(
    proposal: Proposal, request: Request, offers: Sequence[Offer], runs: Mapping[str, UsualRounds]
) -> dict[str, Any]:
    """A proposal as plain data; `offers` are those that were chosen from, `runs` has how each chosen one is run, by its key.

    What is kept here is what the page shows and what is put into the session: its rounds are worked out once.
    """
    titles = {offer.key: offer.title for offer in offers}
    known = {offer.drill for offer in offers}
    return {
        "session": _session(proposal.session, titles, runs) if proposal.session else None,
        "alternatives": [_session(each, titles, runs) for each in proposal.alternatives],
        "proven": proposal.proven,
        "gap": proposal.gap,
        "clash": list(proposal.clash),
        "clash_smallest": proposal.clash_smallest,
        "let_go": list(proposal.let_go),
        "reasons": [kept_reason(each) for each in _without_gone(proposal, request, known)],
    }


def _without_gone(proposal: Proposal, request: Request, known: set[str]) -> list[PlanningReason]:
    """A part that keeps what is not there any more says so, in place of "is kept"."""
    gone = {pin.part for pin in request.pins if pin.drill is not None and pin.drill not in known}
    named = {name.removeprefix(PIN) for name in proposal.clash if name.startswith(PIN)}
    return [
        replace(reason("clash_pin_gone", each.part, part_key=each.part), clears=each.clears)
        if each.code == "clash_pin" and each.part in gone & named
        else each
        for each in proposal.reasons
    ]


def _session(
    session: AssembledSession, titles: dict[str, str], runs: Mapping[str, UsualRounds]
) -> dict[str, Any]:
    return {
        "parts": [_kept_part(part, titles, runs) for part in session.parts],
        "objective": session.objective,
        "minutes": session.minutes,
        "load_au": session.load_au,
        "headers": session.headers,
        "set_up_minutes": session.set_up_minutes,
    }


def _kept_part(part: ProposedPart, titles: dict[str, str], runs: Mapping[str, UsualRounds]) -> dict[str, Any]:
    offer, way = part.offer, part.way
    run = runs.get(offer.key)
    return {
        "number": part.key,
        "kind": part.kind,
        "key": offer.key,
        "drill": offer.drill,
        "rung": offer.variation,
        "title": offer.title,
        "effort": offer.effort_cr10,
        "minutes": part.minutes,
        "rounds": asdict(on_the_clock(part.minutes, run.bout_s, run.rest_s)) if run else None,
        "starts_min": part.starts_min,
        "changeover_minutes": part.changeover_minutes,
        "load_au": part.load_au,
        "pinned": part.pinned,
        **_run(way.apart.others if way.apart else way),
        "keepers": _keepers(way.apart) if way.apart else None,
        "playing_share": way.playing_share,
        "kit": dict(way.kit),
        "reasons": [kept_reason(each) for each in part.reasons],
        "instead": [titles[key] for key in part.instead],
    }


def _run(way: Way) -> dict[str, Any]:
    length_m, width_m = way.size_m
    return {"numbers": way.format, "grids": way.grids, "length_m": length_m, "width_m": width_m}


def _keepers(stations: Apart) -> dict[str, Any]:
    """The keepers' station of a part, and the ground that each station was fitted on."""
    return {
        "drill": stations.drill,
        "rung": stations.variation,
        "title": stations.title,
        "players": stations.keepers.players,
        **_run(stations.keepers),
        "ground_m": list(stations.keepers_ground_m),
        "others_ground_m": list(stations.others_ground_m),
    }


def stays(part: Mapping[str, Any]) -> bool:
    """Whether a proposed part is one of the session's own that stays as it is."""
    return str(part["rung"]).startswith(kept_rung(""))
