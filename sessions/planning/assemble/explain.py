"""Why each part is there, and what stands in the way, as reasons."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sessions.planning.assemble.answer import AssembledSession
from sessions.planning.assemble.clash import LimitClash
from sessions.planning.assemble.library import Offer, Way
from sessions.planning.assemble.options import Option, theme_share
from sessions.planning.assemble.request import KIT, PIN, Request
from sessions.planning.reasons import PlanningReason, Value, reason

PERCENT = 100


def part_reasons(
    request: Request, key: str, offer: Offer, way: Way, *, stays: bool, options: Sequence[Option]
) -> tuple[PlanningReason, ...]:
    """What speaks for an offer in its part, the weightiest first."""
    found: list[PlanningReason] = []
    pin = request.pin(key)
    if pin is not None and pin.drill is not None and request.holds(PIN + key):
        found.append(reason("part_pinned", key))
    if offer.last_week:
        found.append(
            reason("part_one_rung_up" if offer.last_week == "one rung up" else "part_same_rung", key)
        )
    if theme := theme_share(request, offer):
        found.append(reason("part_theme", key, share=round(PERCENT * theme)))
    if way.length_m and way.format:
        found.append(_runs("part_runs", key, way.apart.others if way.apart else way))
        if way.apart is not None:
            found.append(_runs("part_keepers", key, way.apart.keepers, title=way.apart.title))
        found.append(reason("part_playing", key, share=round(PERCENT * way.playing_share)))
    if stays:
        found.append(reason("part_cones_stay", key))
    if offer.heard[1]:
        found.append(reason("part_rated", key, worked=offer.heard[0], tried=offer.heard[1]))
    drills = len({option.drill for option in options})
    if pin is None:
        found.append(
            reason("part_choice", key, drills=drills) if drills > 1 else reason("part_only_choice", key)
        )
    return tuple(found)


def _runs(code: str, key: str, way: Way, **more: Value) -> PlanningReason:
    length_m, width_m = way.size_m
    sides = {"length_m": float(length_m), "width_m": float(width_m)}
    return reason(code, key, (), players=way.players, format=way.format, **sides, **more)


def clash_reasons(request: Request, found: LimitClash) -> tuple[PlanningReason, ...]:
    """One reason for each limit that clashes, with what would clear it; for parts that nothing suits, one each."""
    if found.nothing_for:
        return tuple(_nothing_for(request, key) for key in found.nothing_for)
    return tuple(
        _off(request, found) if name == "in_play" else _limit(request, name, _clears(name, found))
        for name in found.names
    )


def _off(request: Request, found: LimitClash) -> PlanningReason:
    """Who would wait, and what would take them in."""
    if found.off is None:
        return reason("clash_in_play", clears=_clears("in_play", found))
    key, off = found.off
    pin = request.pin(key)
    kept = pin is not None and pin.drill is not None
    clears = (
        reason("clear_in_play_kept", part_key=key, players=request.players)
        if kept
        else reason("clear_in_play")
    )
    return reason("clash_in_play_part", key, (clears,), part_key=key, off=off, players=request.players)


def _nothing_for(request: Request, key: str) -> PlanningReason:
    part = next(part for part in request.parts if part.key == key)
    return reason(
        "clash_part_keepers" if part.keepers_apart else "clash_part",
        key,
        part_key=key,
        kind=part.kind,
        least_min=part.least_minutes,
        most_min=part.most_minutes,
    )


def _clears(name: str, found: LimitClash) -> tuple[PlanningReason, ...]:
    if name not in found.clears:
        return ()
    enough = found.clears[name]
    if enough is not None and name == "load":
        enough = float(math.ceil(enough))  # as it is typed: what is said here is enough
    return (reason("clear_alone") if enough is None else reason("clear_" + name, enough=enough),)


def _limit(request: Request, name: str, clears: tuple[PlanningReason, ...]) -> PlanningReason:
    if name.startswith(KIT):
        kind = name.removeprefix(KIT)
        return reason("clash_kit", clears=clears, kind=kind, given=(request.kit or {})[kind])
    if name.startswith(PIN):
        key = name.removeprefix(PIN)
        return reason("clash_pin", key, clears, part_key=key)
    given: dict[str, Value | None] = {
        "minutes": request.minutes,
        "load": request.load_au,
        "headers": request.headers,
        "set_up": request.set_up_minutes,
        "hardest": request.hardest_cr10,
        "turn_out": request.players,
        "adults": request.adults,
    }
    if name == "space":
        length_m, width_m = float(request.length_m), float(request.width_m)
        return reason("clash_space", clears=clears, length_m=length_m, width_m=width_m)
    value = given.get(name)
    if value is None:
        return reason("clash_" + name, clears=clears)
    return reason("clash_" + name, clears=clears, given=value)


def unfinished(session: AssembledSession | None, gap: float | None) -> tuple[PlanningReason, ...]:
    """What is said when the time ended the search: with the best found, and how much better one could be at most.

    `gap` is that as a share of the bound; None where no bound is known.
    """
    if session is None:
        return (reason("not_finished"),)
    return (reason("not_compared") if gap is None else reason("not_proven", gap=PERCENT * gap),)
