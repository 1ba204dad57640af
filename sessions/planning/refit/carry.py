"""A whole session fitted anew: minutes shared out, each drill on a rung that runs, load inside the budget."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from drills.game.evening import Piece
from drills.game.variations import played
from sessions.planning.load import CHANGEOVER_CR10
from sessions.planning.order import LEAST_MINUTES
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit.model import Fitted, Refit, StationToReuse, Target
from sessions.planning.refit.rounds import fill, is_for_age, rounds_for
from sessions.planning.refit.rungs import choose, on_ground
from sessions.planning.refit.told import drill_changes, place_changes, rounds_changes
from sessions.planning.rounds import Rounds


@dataclass(slots=True)
class _Part:
    """A part on its way: everything of it may still change. `first` is the station that it was read from."""

    first: StationToReuse
    minutes: int
    rounds: Rounds
    cr10: float
    stations: list[Fitted] = field(default_factory=list)
    changes: list[PlanningReason] = field(default_factory=list)

    @classmethod
    def of(cls, first: StationToReuse) -> _Part:
        rounds = Rounds(first.bouts, first.bout_s, first.rest_s)
        return cls(first, first.minutes, rounds, first.cr10)

    @property
    def title(self) -> str:
        return self.first.part_title or self.first.title

    @property
    def load_au(self) -> float:
        return self.minutes * self.cr10 + self.first.changeover_s / 60 * CHANGEOVER_CR10


def carry(stations: Sequence[StationToReuse], target: Target) -> tuple[Refit, ...]:
    """Fit every station of a session, in order, to where it is taken. Parts are those that the stations name.

    First the minutes, shared out as they were; then each drill on the rung nearest to the one played that runs there,
    obeys the heading rule and is not too hard; then rounds and rests of the age, and rounds off the part that costs most
    until the load is inside the budget: they leave less than two of a part's minutes. What can't be played is left out and
    says why; the coach decides what takes its place. Whatever is different is said once.
    """
    parts = _parts(stations)
    if not target.keep_minutes:
        _share_minutes(parts, target)
    for part in parts:
        here = [each for each in stations if each.part == part.first.part]
        grounds = list(_grounds(target, len(here)))
        for index, each in enumerate(here):
            share = target if len(here) < 2 else _share_of(target, index, len(here))
            _fit_station(part, each, share, grounds, target.evening.pieces)
        _mind_effort(part, target)
    _set_rounds(parts, target)
    _mind_load(parts, target)
    for part in parts:
        _say_rounds(part, target)
    return tuple(
        Refit(
            part=each.first.part,
            minutes=each.minutes,
            bouts=each.rounds.bouts,
            bout_s=each.rounds.bout_s,
            rest_s=each.rounds.rest_s,
            cr10=each.cr10,
            stations=tuple(each.stations),
            changes=tuple(each.changes),
        )
        for each in parts
    )


def _parts(stations: Sequence[StationToReuse]) -> list[_Part]:
    found: dict[str, _Part] = {}
    for each in stations:
        found.setdefault(each.part, _Part.of(each))
    return list(found.values())


def _share_minutes(parts: list[_Part], target: Target) -> None:
    """Whole minutes in the old proportions; parts never get longer than they were, so spare time stays spare."""
    changing = sum(each.first.changeover_s for each in parts) / 60
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
            each.minutes = minutes


def _set_rounds(parts: list[_Part], target: Target) -> None:
    """Rounds and rests for the ages there; on the session's own evening they stay as its coach has typed them."""
    if target.keep_minutes:
        return
    for each in parts:
        each.rounds = rounds_for(
            each.rounds, each.minutes, was=target.was, now=target.evening.ages, cycle=each.first.cycle
        )


def _say_rounds(part: _Part, target: Target) -> None:
    before = Rounds(part.first.bouts, part.first.bout_s, part.first.rest_s)
    now = target.evening.ages
    ages = now if is_for_age(before, part.rounds, was=target.was, now=now) else None
    part.changes += rounds_changes(part.title, before, part.rounds, minutes=part.minutes, ages=ages)


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
    part: _Part, station: StationToReuse, target: Target, grounds: list[Piece], pieces: Sequence[Piece]
) -> None:
    """On the ground that suits it best, which the stations after it in its part do not have any more.

    `pieces` are all that there are, for saying which one is meant.
    """
    elsewhere = target.elsewhere
    part.changes += drill_changes(station)
    if station.document is None or station.gone:
        place = "" if elsewhere else station.place
        part.stations.append(Fitted(station.key, "", None, station.gone, place=place))
        part.changes += [reason("carry_out_gone", title=station.title)] if station.gone else []
        part.changes += place_changes(station, place, elsewhere=elsewhere)
        return
    key, setup, ground, why = choose(station, target, grounds)
    if ground in grounds and len(grounds) > 1:
        grounds.remove(ground)
    place = ground.key if len(pieces) > 1 and setup else "" if elsewhere else station.place
    evening = on_ground(target.evening, [ground]) if setup else None
    part.stations.append(Fitted(station.key, key, setup, setup is None, evening, place))
    part.changes += [*why, *place_changes(station, place, elsewhere=elsewhere)]
    if setup is not None and key != station.variation_key:
        _lower_effort(part, played(station.document, key).work.effort)


def _lower_effort(part: _Part, cr10: float) -> None:
    if cr10 < part.cr10:
        part.changes.append(
            reason("carry_effort_now", title=part.title, cr10=float(cr10), before_cr10=float(part.cr10))
        )
        part.cr10 = cr10


def _mind_effort(part: _Part, target: Target) -> None:
    limit = target.hardest_cr10
    if limit is not None and part.cr10 > limit:
        part.changes.append(
            reason("carry_effort", title=part.title, cr10=float(part.cr10), limit_cr10=float(limit))
        )


def _mind_load(parts: list[_Part], target: Target) -> None:
    """Whole rounds off, from the part that costs most, as long as it has more than one."""
    budget = target.load_au
    if budget is None:
        return
    before = {each.first.part: each.minutes for each in parts}
    while sum(each.load_au for each in parts) > budget + 1e-9:
        trimmable = [
            each for each in parts if each.rounds.bouts > each.first.cycle and each.minutes > LEAST_MINUTES
        ]
        if not trimmable:
            break
        _a_round_off(max(trimmable, key=lambda each: each.load_au))
    for each in parts:
        if each.minutes != before[each.first.part]:
            if not each.rounds.fills(each.minutes):
                each.rounds = fill(
                    each.rounds, each.minutes, most_s=each.rounds.bout_s, cycle=each.first.cycle
                )
            each.changes.append(
                reason(
                    "carry_minutes_load",
                    title=each.title,
                    minutes=each.minutes,
                    before_min=before[each.first.part],
                    budget_au=float(budget),
                )
            )
    left = sum(each.load_au for each in parts)
    if left > budget + 1e-9 and parts:
        parts[-1].changes.append(reason("carry_load", load_au=left, budget_au=float(budget)))


def _a_round_off(part: _Part) -> None:
    """One round, or as many as take every group to every station."""
    off = part.first.cycle
    saved = max(1, off * (part.rounds.bout_s + part.rounds.rest_s) // 60)
    part.minutes = max(LEAST_MINUTES, part.minutes - saved)
    part.rounds = replace(part.rounds, bouts=part.rounds.bouts - off)
