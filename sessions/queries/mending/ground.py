"""A pitch is lost: the club's rows as the planner's table, its answer as rows again, and the very spaces for each change."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from typing import Any

from club import queries as club
from sessions.choices import STILL_TO_COME
from sessions.models import TrainingSession
from sessions.planning.blocks import (
    ClubGround,
    GroundChange,
    GroundMended,
    GroundSession,
    LostGround,
    LostRequest,
    mend_ground,
)
from sessions.queries.calendar.taking import closed_between
from sessions.queries.daylight import is_dark_on
from sessions.queries.mending.lost import SECONDS, Lost, clock_of, minute_of
from sessions.queries.rows import expected_of, frames_between, staff_rows_of, zones_of
from sessions.queries.slots.weekly import free_slots, slots_of

MOVES_WITHIN_DAYS = 6  # a session that is put off by a week or more is another one
NOWHERE = "nowhere "  # before a session's key: the ground of one that holds no space


@dataclass(frozen=True)
class GroundStep:
    """One change: the session, when and on which spaces it is then. No spaces: none of its size was found, or it is off."""

    session: TrainingSession
    code: str
    day: date
    starts: time
    ends: time
    zones: tuple[Any, ...]
    lost_minutes: int
    beside: tuple[TrainingSession, ...]  # whose changes come first

    @property
    def is_off(self) -> bool:
        return self.code == "off"


@dataclass(frozen=True)
class PitchMended:
    """What is hit, what becomes of it in the order in which it can be done, and how good the answer is."""

    lost: Lost
    hit: list[TrainingSession]
    steps: list[GroundStep]
    found: GroundMended
    is_closed: bool  # whether the club's closed days say so already


@dataclass
class _Club:
    lost: Lost
    rows: list[TrainingSession]
    pitch_of: Mapping[int, Any] = field(default_factory=dict)  # by a space's inner id
    zones: Mapping[str, list[Any]] = field(default_factory=dict)  # by a pitch's inner id as text
    # Spaces that are others' all the same, and when.
    taken: list[tuple[int, date, time, time]] = field(default_factory=list)
    is_closed: bool = False


def mend_pitch(lost: Lost) -> PitchMended:
    """What could become of each session on the pitch. Seven queries; the search takes fractions of a second, `SECONDS` at most."""
    at_hand = _read(lost)
    request = _request(at_hand)
    found = mend_ground(request, seconds=SECONDS)
    by_key = {str(each.pk): each for each in at_hand.rows}
    hit = [by_key[each.key] for each in request.sessions if each.key in by_key and request.is_hit(each)]
    return PitchMended(lost, hit, _steps(found.changes, by_key, at_hand), found, at_hand.is_closed)


def _read(lost: Lost) -> _Club:
    after = lost.last + timedelta(days=MOVES_WITHIN_DAYS)
    rows = [each for each in frames_between(lost.first, after) if each.state in STILL_TO_COME]
    every = club.zones()
    zones: dict[str, list[Any]] = {}
    for zone in every:
        zones.setdefault(str(zone.pitch_id), []).append(zone)
    at_hand = _Club(lost, rows, {each.pk: each.pitch for each in every}, zones)
    today = club.today()
    for free in free_slots(slots_of(lost.first, after), rows, max(lost.first, today), after):
        at_hand.taken += [
            (each["pk"], free.day, free.slot.starts, free.slot.ends) for each in free.slot.zone_rows
        ]
    for closed in closed_between(lost.first, after):
        at_hand.is_closed |= (
            closed.pitch_id in (None, lost.what.pk)
            and closed.first_day <= lost.first
            and lost.last <= closed.last_day
        )
        shut = zones.get(str(closed.pitch_id), []) if closed.pitch_id else every
        days = [
            closed.first_day + timedelta(days=n) for n in range((closed.last_day - closed.first_day).days + 1)
        ]
        at_hand.taken += [
            (zone.pk, day, time.min, time.max) for zone in shut for day in days if lost.first <= day <= after
        ]
    return at_hand


def _request(at_hand: _Club) -> LostRequest:
    lost = at_hand.lost
    grounds = [ClubGround(key, len(zones)) for key, zones in at_hand.zones.items()]
    sessions = [_session(each, at_hand) for each in at_hand.rows]
    grounds += [ClubGround(each.ground, 1) for each in sessions if each.ground.startswith(NOWHERE)]
    return LostRequest(
        grounds=tuple(grounds),
        sessions=(*sessions, *_others(at_hand)),
        lost=(
            LostGround(
                str(lost.what.pk),
                0,
                lost.number(lost.last),
                *lost.span,
            ),
        ),
    )


def _session(row: TrainingSession, at_hand: _Club) -> GroundSession:
    """On the lost pitch where it has a space there, else on the pitch of its first space."""
    held = [at_hand.pitch_of[each["pk"]].pk for each in zones_of(row) if each["pk"] in at_hand.pitch_of]
    ground = at_hand.lost.what.pk if at_hand.lost.what.pk in held else next(iter(held), None)
    there = held.count(ground) if ground is not None else 1
    return GroundSession(
        key=str(row.pk),
        team=str(row.squad_id),
        day=at_hand.lost.number(row.day),
        starts=minute_of(row.starts),
        ends=minute_of(row.ends),
        players=expected_of(row),
        ground=str(ground) if ground is not None else f"{NOWHERE}{row.pk}",
        thirds=there,
        least_thirds=1,
        people=tuple(str(each["pk"]) for each in staff_rows_of(row)),
        may_share=ground is not None,
        grounds=frozenset(
            key
            for key, zones in at_hand.zones.items()
            if not is_dark_on(zones[0].pitch, row.day, row.starts, row.ends)
        ),
        moves=_moves(row, at_hand),
    )


def _moves(row: TrainingSession, at_hand: _Club) -> tuple[tuple[int, int], ...]:
    """The same time on days soon after on which the team has nothing else."""
    busy = {each.day for each in at_hand.rows if each.squad_id == row.squad_id}
    days = (row.day + timedelta(days=n) for n in range(1, MOVES_WITHIN_DAYS + 1))
    return tuple(
        (at_hand.lost.number(day), minute_of(row.starts))
        for day in days
        if day not in busy and day <= at_hand.lost.last + timedelta(days=MOVES_WITHIN_DAYS)
    )


def _others(at_hand: _Club) -> Iterable[GroundSession]:
    """Empty slots of teams, and spaces that are closed: nobody is put there, and nothing is done about them."""
    for number, (zone, day, starts, ends) in enumerate(at_hand.taken):
        pitch = at_hand.pitch_of.get(zone)
        if pitch is None or pitch.pk == at_hand.lost.what.pk:
            continue
        yield GroundSession(
            key=f"other {number}",
            team=f"other {number}",
            day=at_hand.lost.number(day),
            starts=minute_of(starts),
            ends=max(minute_of(ends), minute_of(starts) + 1),
            players=0,
            ground=str(pitch.pk),
            thirds=1,
            least_thirds=1,
            may_share=False,
        )


def _steps(
    changes: Sequence[GroundChange], by_key: Mapping[str, TrainingSession], at_hand: _Club
) -> list[GroundStep]:
    """In an order in which each can be done once those before it are; each on spaces that are free by then."""
    free = _Spaces(at_hand)
    return [
        GroundStep(
            session=by_key[each.session],
            code=each.code,
            day=at_hand.lost.first + timedelta(days=each.day),
            starts=clock_of(each.starts),
            ends=clock_of(each.ends),
            zones=free.given(each, by_key[each.session]),
            lost_minutes=each.lost_minutes,
            beside=tuple(by_key[key] for key in each.needs),
        )
        for each in _in_turn(changes)
    ]


def _in_turn(changes: Sequence[GroundChange]) -> list[GroundChange]:
    """Each after those that it needs; what only gives room first."""
    left = sorted(
        changes, key=lambda each: (each.code not in ("off", "gives", "half"), each.day, each.starts)
    )
    found: list[GroundChange] = []
    while left:
        done = {each.session for each in found}
        ready = next((each for each in left if set(each.needs) <= done), left[0])
        found.append(ready)
        left.remove(ready)
    return found


class _Spaces:
    """Who holds which space when, change by change."""

    def __init__(self, at_hand: _Club) -> None:
        self.at_hand = at_hand
        self.others = list(at_hand.taken)
        self.held = {
            str(row.pk): [(each["pk"], row.day, row.starts, row.ends) for each in zones_of(row)]
            for row in at_hand.rows
        }

    def given(self, change: GroundChange, row: TrainingSession) -> tuple[Any, ...]:
        """The spaces of a session after a change, by number where they are on the ground; none where it is off or none are free."""
        own = self.held.pop(change.session)
        if change.code == "off":
            return ()
        day = self.at_hand.lost.first + timedelta(days=change.day)
        starts, ends = clock_of(change.starts), clock_of(change.ends)
        ground = self.at_hand.zones.get(change.ground, [])
        mine = [zone for zone in ground if any(zone.pk == each[0] for each in own)]
        rest = [zone for zone in ground if zone not in mine]
        free = [zone for zone in (*mine, *rest) if self._is_free(zone, day, starts, ends)]
        chosen = free[: change.thirds] if len(free) >= change.thirds else []
        if not chosen:
            self.held[change.session] = own
            return ()
        elsewhere = [
            each[0]
            for each in own
            if each[0] in self.at_hand.pitch_of
            and self.at_hand.pitch_of[each[0]].pk not in (self.at_hand.lost.what.pk, int(change.ground))
        ]
        also = [zone for zones in self.at_hand.zones.values() for zone in zones if zone.pk in elsewhere]
        kept = also if row.day == day else []
        self.held[change.session] = [(zone.pk, day, starts, ends) for zone in (*chosen, *kept)]
        return (*chosen, *kept)

    def _is_free(self, zone: Any, day: date, starts: time, ends: time) -> bool:
        lost = self.at_hand.lost
        if zone.pitch_id == lost.what.pk and lost.meets(day, starts, ends):
            return False
        booked = (each for rows in (*self.held.values(), self.others) for each in rows)
        return not any(pk == zone.pk and on == day and a < ends and starts < b for pk, on, a, b in booked)
