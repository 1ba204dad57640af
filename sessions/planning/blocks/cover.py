"""A coach is away: sessions with their people, who could be asked, and for each session that is hit what can be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sessions.planning.blocks.ground import DAY_MIN
from sessions.planning.numbers import at_least, whole
from sessions.planning.supervision import AdultRule

# Ours, a judgement each: teams of ages two years apart can train together; sessions that begin within a quarter of an
# hour are at the same time; less than half a session is none.
NEAR_AGES, SAME_TIME_MIN, LEAST_SHARE = 2, 15, 0.5

# The last resorts first, each as small as it can be: a club turns to them in the opposite order.
COVER_ORDER = ("without", "minutes", "asked", "joins", "changes")

Span = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class CoverPerson:
    """Somebody who may lead or look after children. `free` are spans (day, from, to; minutes after midnight) in which they
    may be asked beside their own sessions; with none they are not asked.
    """

    key: str
    adult: bool = True
    may_lead: bool = False
    free: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class CoverSession:
    """A session with its people; `staff` holds the lead too. `under` is the age ("under n"), `most_players` its room.

    `day` counts from any first day, `starts` and `ends` are minutes after midnight. `rule` says how many adults there must
    be; None for a group of adults. Raises ValueError naming the field.
    """

    key: str
    team: str
    under: int
    day: int
    starts: int
    ends: int
    players: int
    lead: str
    staff: tuple[str, ...]
    rule: AdultRule | None = None
    most_players: int | None = None

    def __post_init__(self) -> None:
        whole("starts", self.starts, 0)
        whole("ends", self.ends, self.starts + 1)
        whole("players", self.players, 1)
        if self.lead not in self.staff:
            raise ValueError("lead: is one of the staff")

    @property
    def length(self) -> int:
        """Minutes from its start to its end."""
        return self.ends - self.starts


@dataclass(frozen=True, slots=True)
class CoachAway:
    """Somebody who is away from one day to another, both included, between two times (minutes after midnight)."""

    person: str
    first_day: int
    last_day: int
    starts: int = 0
    ends: int = DAY_MIN


@dataclass(frozen=True, slots=True)
class CoverRequest:
    """Sessions of the days concerned, people, and who is away. `near_ages` in years, `least_share` of a session's minutes.

    Raises ValueError naming the field.
    """

    sessions: tuple[CoverSession, ...]
    people: tuple[CoverPerson, ...]
    away: tuple[CoachAway, ...]
    near_ages: int = NEAR_AGES
    least_share: float = LEAST_SHARE

    def __post_init__(self) -> None:
        whole("near_ages", self.near_ages, 0)
        if at_least("least_share", self.least_share, 0) > 1:
            raise ValueError("least_share: a share, at most 1")
        if len({each.key for each in self.sessions}) != len(self.sessions):
            raise ValueError("sessions: no two of the same key")
        people = {each.key for each in self.people}
        for who in (
            *(who for each in self.sessions for who in each.staff),
            *(each.person for each in self.away),
        ):
            if who not in people:
                raise ValueError(f"people: nobody is called {who!r}")

    def is_away(self, person: str, session: CoverSession) -> bool:
        """Whether somebody is away during some of a session."""
        return any(
            each.person == person
            and each.first_day <= session.day <= each.last_day
            and each.starts < session.ends
            and session.starts < each.ends
            for each in self.away
        )

    def present(self, session: CoverSession) -> tuple[str, ...]:
        """Its people who are not away."""
        return tuple(each for each in session.staff if not self.is_away(each, session))

    def is_hit(self, session: CoverSession) -> bool:
        """Whether one of its people is away."""
        return len(self.present(session)) < len(session.staff)

    def free_part(self, person: CoverPerson, session: CoverSession) -> tuple[int, int] | None:
        """The longest piece of a session (from, to; the first of equals) that somebody has time for; None for none at all.

        Own people have time but when they are away or down for another session; others only where they are free as well.
        """
        own = person.key in session.staff
        spans = [(0, DAY_MIN)] if own else [(a, b) for day, a, b in person.free if day == session.day]
        busy = [
            (each.starts, each.ends)
            for each in self.sessions
            if each.key != session.key and each.day == session.day and person.key in each.staff
        ]
        busy += [
            (each.starts, each.ends)
            for each in self.away
            if each.person == person.key and each.first_day <= session.day <= each.last_day
        ]
        pieces = [
            piece
            for start, end in _joined(spans)
            for piece in _without(max(start, session.starts), min(end, session.ends), busy)
        ]
        return max(pieces, key=lambda each: (each[1] - each[0], -each[0]), default=None)


@dataclass(frozen=True, slots=True)
class CoverWay:
    """One thing to do with a session. `code`: stays · assistant · neighbour · joins · shorter · off.

    `lead` is who leads, `host` the session that is joined; `starts` and `ends` in minutes after midnight.
    """

    code: str
    starts: int
    ends: int
    lead: str = ""
    host: str = ""
    asked: bool = False  # somebody who is not down for the session


def ways_of(request: CoverRequest, session: CoverSession) -> list[CoverWay]:
    """All that can be done with a session, whether or not there are adults and room enough for it."""
    present = request.present(session)
    full = (session.starts, session.ends)
    if session.lead in present:
        found = [CoverWay("stays", *full, session.lead)]
    else:
        people = {each.key: each for each in request.people}
        found = [CoverWay("assistant", *full, each) for each in present if people[each].may_lead]
    if not request.is_hit(session):
        return found
    for person in request.people if session.lead not in present else ():
        part = request.free_part(person, session) if person.may_lead or person.key == session.lead else None
        own = person.key in session.staff
        if part == full and not own:
            found.append(CoverWay("neighbour", *full, person.key, asked=True))
        elif part and part != full and part[1] - part[0] >= request.least_share * session.length:
            found.append(CoverWay("shorter", *part, person.key, asked=not own))
    for host in request.sessions:
        start, end = max(host.starts, session.starts), min(host.ends, session.ends)
        if (
            host.key != session.key
            and host.day == session.day
            and abs(host.starts - session.starts) <= SAME_TIME_MIN
            and abs(host.under - session.under) <= request.near_ages
            and end - start >= request.least_share * session.length
        ):
            found.append(CoverWay("joins", start, end, host=host.key))
    return [*found, CoverWay("off", *full)]


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans that meet or overlap as one."""
    found: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found


def _without(start: int, end: int, busy: list[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """The pieces of a span that are left of it."""
    for begins, ends in sorted(busy):
        if ends <= start or begins >= end:
            continue
        if begins > start:
            yield start, begins
        start = max(start, ends)
    if start < end:
        yield start, end
