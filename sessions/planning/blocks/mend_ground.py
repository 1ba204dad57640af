"""A pitch is lost: who shares, goes elsewhere, shortens, moves or is off, as single changes with what each depends on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sessions.planning.blocks.ground import (
    CHANGES,
    MINUTES,
    MOVED,
    WITHOUT,
    ClubGround,
    GroundSession,
    GroundWay,
    LostRequest,
    stands_of,
)
from sessions.planning.blocks.solving import BlockWatch, Clock, Measure, MeasuredAnswer, in_order

Answer = Mapping[str, GroundWay]


@dataclass(frozen=True, slots=True)
class GroundChange:
    """One change: where and when a session is now, and which other changes have to be accepted before it, by session.

    `code`: gives (thirds to others) · free (goes where room is) · shares (goes where others make room) · half · moved ·
    off.
    `lost_minutes` are those of each child.
    """

    session: str
    code: str
    ground: str
    day: int
    starts: int
    ends: int
    thirds: int
    lost_minutes: int
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GroundMended(MeasuredAnswer):
    """The changes, measured in the order asked for."""

    changes: tuple[GroundChange, ...]


def mend_ground(request: LostRequest, *, seconds: float = 5, watch: BlockWatch | None = None) -> GroundMended:
    """The best changes for what is lost; days that nothing joins are solved apart. `watch` may end the search."""
    clock = Clock(seconds, watch)
    answer: dict[str, GroundWay] = {}
    found: list[Sequence[Measure]] = []
    groups = list(_joined_days(request))
    for at, sessions in enumerate(groups):
        part = Clock(clock.left_s / (len(groups) - at), watch)
        measures, stands = _solved(request, sessions, part)
        if not measures:
            return GroundMended((), clock.spent_s, ())
        found.append(measures)
        answer.update(stands)
    totals = tuple(
        Measure(
            name,
            sum(each[at].value for each in found),
            sum(each[at].bound for each in found),
            all(each[at].proven for each in found),
        )
        for at, name in enumerate(request.order)
    )
    changes = tuple(_change(request, each, answer) for each in request.sessions if _is_changed(answer, each))
    return GroundMended(totals, clock.spent_s, changes)


def _joined_days(request: LostRequest) -> Iterator[list[GroundSession]]:
    """Sessions of days that a possible move joins, where at least one is hit."""
    group: dict[int, set[int]] = {each.day: {each.day} for each in request.sessions}
    for session in request.sessions:
        for day in [each for each, _ in session.moves] if request.is_hit(session) else ():
            joined = group.setdefault(day, {day}) | group[session.day]
            for each in joined:
                group[each] = joined
    for days in {id(each): each for each in group.values()}.values():
        sessions = [each for each in request.sessions if each.day in days]
        if any(map(request.is_hit, sessions)):
            yield sessions


class _Room:
    """What there is room for: (drawn, most there may be) of each ground and person, at each minute that counts."""

    def __init__(self, request: LostRequest, sessions: Sequence[GroundSession]) -> None:
        self.request = request
        self.stands = {each.key: stands_of(request, each) for each in sessions}
        self.sessions = {each.key: each for each in sessions}
        self.minutes: dict[int, set[int]] = defaultdict(set)
        for booked, *others in self.stands.values():
            # Where more is booked than there is, less is possible from the end of one of them.
            self.minutes[booked.day].update((booked.starts, booked.ends))
            for each in others:
                self.minutes[each.day].add(each.starts)
        for lost in request.lost:
            for day, minutes in self.minutes.items():
                if lost.first_day <= day <= lost.last_day:
                    minutes.update((lost.starts, lost.ends))

    def rules(self) -> Iterator[tuple[dict[tuple[str, int], int], int]]:
        """Each as {(session, number of its stand): drawn} and the most.

        What is booked stays possible where nothing is lost.
        """
        for day, at in ((day, at) for day, minutes in sorted(self.minutes.items()) for at in sorted(minutes)):
            running = [
                (key, number, stand)
                for key, stands in self.stands.items()
                for number, stand in enumerate(stands)
                if stand.runs(day, at)
            ]
            for ground in self.request.grounds:
                there = [each for each in running if each[2].ground == ground.key]
                yield from self._of_ground(ground, there, self.request.left(ground, day, at))
            by_person: dict[str, dict[tuple[str, int], int]] = defaultdict(dict)
            for key, number, _ in running:
                session = self.sessions[key]
                for who in {*session.people, f"team {session.team}"}:
                    by_person[who][key, number] = 1
            for drawn in by_person.values():
                booked = sum(number == 0 for _, number in drawn)
                yield drawn, max(1, booked)

    def _of_ground(
        self, ground: ClubGround, there: Sequence[tuple[str, int, GroundWay]], left: int
    ) -> Iterator[tuple[dict[tuple[str, int], int], int]]:
        thirds = {(key, number): stand.thirds for key, number, stand in there}
        players = {(key, number): self.sessions[key].players for key, number, _ in there}
        whole = left == ground.thirds
        yield thirds, max(left, _booked(thirds)) if whole else left
        if ground.most_players is not None:
            yield players, max(ground.most_players, _booked(players))


def _booked(drawn: Mapping[tuple[str, int], int]) -> int:
    return sum(amount for (_, number), amount in drawn.items() if number == 0)


def _solved(
    request: LostRequest, sessions: Sequence[GroundSession], clock: Clock
) -> tuple[tuple[Measure, ...], Answer]:
    from ortools.sat.python import cp_model

    cp: Any = cp_model.CpModel()
    room = _Room(request, sessions)
    x = {key: [cp.new_bool_var("") for _ in stands] for key, stands in room.stands.items()}
    for literals in x.values():
        cp.add_exactly_one(literals)
    for drawn, most in room.rules():
        if sum({key: max(a for (k, _), a in drawn.items() if k == key) for key, _ in drawn}.values()) > most:
            cp.add(sum(amount * x[key][number] for (key, number), amount in drawn.items()) <= most)
    sums = {
        name: sum(
            _cost(name, room.sessions[key], stand) * literal
            for key, stands in room.stands.items()
            for stand, literal in zip(stands, x[key], strict=True)
        )
        for name in request.order
    }
    flat = [literal for literals in x.values() for literal in literals]
    measures, values = in_order(cp, [(name, sums[name]) for name in request.order], flat, clock)
    if not values:
        return (), {}
    given = iter(values)
    answer = {
        key: next(s for s, on in [(s, next(given)) for s in stands] if on)
        for key, stands in room.stands.items()
    }
    return measures, answer


def _cost(name: str, session: GroundSession, stand: GroundWay) -> int:
    """What a stand adds to one of the things that are made small."""
    return {
        WITHOUT: session.players * (stand.code == "off"),
        MOVED: session.players * (stand.code == "moved"),
        MINUTES: session.players * stand.lost_minutes,
        CHANGES: int(stand.code != "stays"),
    }[name]


def _is_changed(answer: Answer, session: GroundSession) -> bool:
    return session.key in answer and answer[session.key].code != "stays"


def _change(request: LostRequest, session: GroundSession, answer: Answer) -> GroundChange:
    stand = answer[session.key]
    needs = _needs(request, session, answer)
    code = stand.code if stand.code != "goes" else "shares" if needs else "free"
    return GroundChange(
        session.key,
        code,
        stand.ground,
        stand.day,
        stand.starts,
        stand.ends,
        stand.thirds,
        stand.lost_minutes,
        needs,
    )


def _needs(request: LostRequest, session: GroundSession, answer: Answer) -> tuple[str, ...]:
    """The other changes without which there would be no room for this one, whatever else is accepted or not.

    A change that is not among them is counted as done and not done at once, by what it takes more of.
    """
    stand = answer[session.key]
    if stand.code in ("off", "gives") or (stand.code == "half" and stand.ground == session.ground):
        return ()
    days = {each.key: each for each in request.sessions if each.key in answer}
    room = _Room(request, [each for each in days.values() if stand.day in (each.day, answer[each.key].day)])
    at = {key: room.stands[key].index(answer[key]) for key in room.stands}
    rules = [(drawn, most) for drawn, most in room.rules() if drawn.get((session.key, at[session.key]), 0)]

    def fits(needed: set[str]) -> bool:
        return all(
            sum(
                drawn.get((key, at[key]), 0)
                if key == session.key or key in needed
                else max(drawn.get((key, 0), 0), drawn.get((key, at[key]), 0))
                for key in room.stands
            )
            <= most
            for drawn, most in rules
        )

    needed = {key for key in room.stands if key != session.key and at[key]}
    for key in sorted(needed):
        if fits(needed - {key}):
            needed -= {key}
    return tuple(each.key for each in request.sessions if each.key in needed)
