"""A whole session fitted anew: minutes shared out, each drill on a rung that runs, load inside the budget."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from drills.game.evening import Piece
from drills.game.variations import played
from sessions.planning.load import CHANGEOVER_CR10
from sessions.planning.reasons import Reason, reason
from sessions.planning.refit.model import Carried, Fitted, Refit, Target
from sessions.planning.refit.rungs import choose, on_ground

LEAST_MINUTES = 5


@dataclass(slots=True)
class _Part:
    """A part on its way: everything of it may still change."""

    key: str
    title: str
    minutes: int
    bouts: int
    bout_s: int
    rest_s: int
    changeover_s: int
    cr10: float
    stations: list[Fitted]
    changes: list[Reason]

    @property
    def load_au(self) -> float:
        return self.minutes * self.cr10 + self.changeover_s / 60 * CHANGEOVER_CR10


def carry(stations: Sequence[Carried], target: Target) -> tuple[Refit, ...]:
    """Fit every station of a session, in order, to where it is taken. Parts are those that the stations name.

    First the minutes, shared out as they were; then each drill on the rung nearest to the one played that runs there,
    obeys the heading rule and is not too hard; then bouts off the part that costs most until the load is inside the
    budget. What can't be played is left out and says why; the coach decides what takes its place.
    """
    parts = _parts(stations)
    if not target.keep_minutes:
        _share_minutes(parts, target)
    for part in parts:
        here = [each for each in stations if each.part == part.key]
        grounds = list(_grounds(target, len(here)))
        for index, each in enumerate(here):
            share = target if len(here) < 2 else _share_of(target, index, len(here))
            _fit_station(part, each, share, grounds, target.evening.pieces)
        _mind_effort(part, target)
    _mind_load(parts, target)
    return tuple(
        Refit(
            part=each.key,
            minutes=each.minutes,
            bouts=each.bouts,
            bout_s=each.bout_s,
            rest_s=each.rest_s,
            cr10=each.cr10,
            stations=tuple(each.stations),
            changes=tuple(each.changes),
        )
        for each in parts
    )


def _parts(stations: Sequence[Carried]) -> list[_Part]:
    found: dict[str, _Part] = {}
    for each in stations:
        found.setdefault(
            each.part,
            _Part(
                each.part,
                each.title,
                each.minutes,
                each.bouts,
                each.bout_s,
                each.rest_s,
                each.changeover_s,
                each.cr10,
                [],
                [],
            ),
        )
    return list(found.values())


def _share_minutes(parts: list[_Part], target: Target) -> None:
    """Whole minutes in the old proportions; parts never get longer than they were, so spare time stays spare."""
    changing = sum(each.changeover_s for each in parts) / 60
    room = target.minutes - target.clear_minutes - changing
    before = sum(each.minutes for each in parts)
    if before <= room or not before:
        return
    for each in parts:
        minutes = max(LEAST_MINUTES, int(each.minutes * room / before))
        if minutes < each.minutes:
            each.changes.append(
                reason("carry_minutes", title=each.title, minutes=minutes, before_min=each.minutes)
            )
            _shorten(each, minutes)


def _shorten(part: _Part, minutes: int) -> None:
    """Bouts keep their length as long as one fits; what is left over stays in the part."""
    part.minutes = minutes
    part.bouts = max(1, min(part.bouts, (minutes * 60 + part.rest_s) // (part.bout_s + part.rest_s)))
    part.bout_s = min(part.bout_s, minutes * 60)


def _share_of(target: Target, index: int, stations: int) -> Target:
    """Stations at the same time share the players as evenly as can be, the first ones one more; each has one adult."""
    everyone = target.evening.players
    players = everyone // stations + (index < everyone % stations)
    return replace(target, evening=target.evening.for_station(max(1, players)))


def _grounds(target: Target, stations: int) -> Iterator[Piece]:
    """The ground of each station at the same time; one station has its choice of all.

    Each further station goes where a station has most room, and a piece is cut evenly across its longer side. Where nobody
    said how much ground there is, each has as much as it takes.
    """
    ground = target.evening.ground
    if stations < 2:
        yield from ground
        return
    if not target.evening.pieces:
        yield from ground * stations
        return
    counts = [0] * len(ground)
    for _ in range(stations):
        rooms = [each.area_m2 / (n + 1) for each, n in zip(ground, counts, strict=True)]
        counts[rooms.index(max(rooms))] += 1
    for each, count in zip(ground, counts, strict=True):
        yield from each.cut(count) if count else ()


def _fit_station(
    part: _Part, carried: Carried, target: Target, grounds: list[Piece], pieces: Sequence[Piece]
) -> None:
    """On the ground that suits it best, which the stations after it in its part do not have any more.

    `pieces` are all that there are, for saying which one is meant.
    """
    if carried.document is None:
        part.stations.append(Fitted(carried.key, "", None, is_out=False))
        return
    key, setup, ground, why = choose(carried, target, grounds)
    if ground in grounds and len(grounds) > 1:
        grounds.remove(ground)
    place = ground.key if len(pieces) > 1 and setup else ""
    evening = on_ground(target.evening, [ground]) if setup else None
    part.stations.append(Fitted(carried.key, key, setup, setup is None, evening, place))
    part.changes.extend(why)
    if place and ground.key != target.evening.ground[0].key:
        part.changes.append(reason("carry_place", title=carried.title, place=place))
    if setup is not None and key != carried.variation_key:
        part.cr10 = min(part.cr10, played(carried.document, key).work.effort)


def _mind_effort(part: _Part, target: Target) -> None:
    limit = target.hardest_cr10
    if limit is not None and part.cr10 > limit:
        part.changes.append(
            reason("carry_effort", title=part.title, cr10=float(part.cr10), limit_cr10=float(limit))
        )


def _mind_load(parts: list[_Part], target: Target) -> None:
    """Whole bouts off, from the part that costs most, as long as it has more than one."""
    budget = target.load_au
    if budget is None:
        return
    before = {each.key: each.bouts for each in parts}
    while sum(each.load_au for each in parts) > budget + 1e-9:
        trimmable = [each for each in parts if each.bouts > 1 and each.minutes > LEAST_MINUTES]
        if not trimmable:
            break
        most = max(trimmable, key=lambda each: each.load_au)
        saved = max(1, (most.bout_s + most.rest_s) // 60)
        most.minutes = max(LEAST_MINUTES, most.minutes - saved)
        most.bouts -= 1
    for each in parts:
        if each.bouts != before[each.key]:
            each.changes.append(
                reason(
                    "carry_bouts",
                    title=each.title,
                    bouts=each.bouts,
                    before=before[each.key],
                    budget_au=float(budget),
                )
            )
    left = sum(each.load_au for each in parts)
    if left > budget + 1e-9 and parts:
        parts[-1].changes.append(reason("carry_load", load_au=left, budget_au=float(budget)))
