"""A pitch is lost: what there is and what is booked on it, and for each session that is hit what can be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sessions.planning.numbers import whole

# What is made as small as it can be, in this order: children without football; children whose time moves, since fourteen
# families have to change their evening for it; minutes lost, times the children; changes to tell somebody of.
WITHOUT, MOVED, MINUTES, CHANGES = "without", "moved", "minutes", "changes"
LOST_ORDER = (WITHOUT, MOVED, MINUTES, CHANGES)
LEAST_HALF_MIN = 25  # half a session shorter than this is not worth the way; a judgement
DAY_MIN = 24 * 60  # minutes of a day, no source needed


@dataclass(frozen=True, slots=True)
class ClubGround:
    """A pitch or hall with so many thirds, and how many players may be on it at once (None: thirds alone decide)."""

    key: str
    thirds: int = 3
    most_players: int | None = None


@dataclass(frozen=True, slots=True)
class GroundSession:
    """A session that is booked: so many `thirds` of a `ground`; it can make do with `least_thirds`.

    `day` counts from any first day, `starts` and `ends` are minutes after midnight. `people` are its coaches: nobody is
    in two places. With `may_share` it may be asked to give thirds or a half of its time. `grounds` are those that it may
    go to (None: all), `moves` other times (day, starts) that it may be moved to. Raises ValueError naming the field.
    """

    key: str
    team: str
    day: int
    starts: int
    ends: int
    players: int
    ground: str
    thirds: int
    least_thirds: int
    people: tuple[str, ...] = ()
    may_share: bool = True
    grounds: frozenset[str] | None = None
    moves: tuple[tuple[int, int], ...] = ()

    def __post_init__(self) -> None:
        whole("starts", self.starts, 0)
        whole("ends", self.ends, self.starts + 1)
        whole("players", self.players, 0)
        whole("least_thirds", self.least_thirds, 1)
        whole("thirds", self.thirds, self.least_thirds)


@dataclass(frozen=True, slots=True)
class LostGround:
    """A ground that cannot be used from one day to another, both included, between two times (minutes after midnight).

    All of it where `thirds` is None.
    """

    ground: str
    first_day: int
    last_day: int
    starts: int = 0
    ends: int = DAY_MIN
    thirds: int | None = None

    def hits(self, ground: str, day: int, starts: int, ends: int) -> bool:
        """Whether it concerns this ground at this time (minutes after midnight)."""
        there = ground == self.ground and self.first_day <= day <= self.last_day
        return there and starts < self.ends and self.starts < ends


@dataclass(frozen=True, slots=True)
class LostRequest:
    """Grounds, all sessions of the days concerned and of those that could be moved to, and what is lost.

    `order` names what is made small first (the names in `LOST_ORDER`, each once). Raises ValueError naming the field.
    """

    grounds: tuple[ClubGround, ...]
    sessions: tuple[GroundSession, ...]
    lost: tuple[LostGround, ...]
    order: tuple[str, ...] = LOST_ORDER

    def __post_init__(self) -> None:
        grounds = {each.key for each in self.grounds}
        for session in self.sessions:
            if session.ground not in grounds:
                raise ValueError(f"sessions: no ground is called {session.ground!r}")
        if len({each.key for each in self.sessions}) != len(self.sessions):
            raise ValueError("sessions: no two of the same key")
        if sorted(self.order) != sorted(LOST_ORDER):
            raise ValueError("order: each name once")

    def left(self, ground: ClubGround, day: int, at: int) -> int:
        """Thirds that there are at a minute of a day; of losses at one time the largest counts, not their sum."""
        gone = [each for each in self.lost if each.hits(ground.key, day, at, at + 1)]
        lost = [ground.thirds if each.thirds is None else each.thirds for each in gone]
        return max(0, ground.thirds - max(lost, default=0))

    def is_hit(self, session: GroundSession) -> bool:
        """Whether some of its ground is lost while it runs."""
        return any(each.hits(session.ground, session.day, session.starts, session.ends) for each in self.lost)


@dataclass(frozen=True, slots=True)
class GroundWay:
    """Where and when a session can be: what it takes, and what is lost by it (minutes of each child).

    `code`: stays · gives (thirds) · goes · half · moved · off.
    """

    code: str
    ground: str
    day: int
    starts: int
    ends: int
    thirds: int
    lost_minutes: int = 0

    def runs(self, day: int, at: int) -> bool:
        """Whether it is there at a minute of a day."""
        return self.code != "off" and self.day == day and self.starts <= at < self.ends


def stands_of(request: LostRequest, session: GroundSession) -> list[GroundWay]:
    """All that can be done with a session, as it stands first; what the ground has room for is decided elsewhere."""
    now = GroundWay("stays", session.ground, session.day, session.starts, session.ends, session.thirds)
    found = [now]
    is_hit = request.is_hit(session)
    if (is_hit or session.may_share) and session.least_thirds < session.thirds:
        found.append(GroundWay("gives", now.ground, now.day, now.starts, now.ends, session.least_thirds))
    if is_hit:
        for ground in _open_to(request, session):
            if ground.key != session.ground:
                found.append(
                    GroundWay("goes", ground.key, now.day, now.starts, now.ends, session.least_thirds)
                )
            found += _halves(session, ground.key, session.least_thirds)
            length = session.ends - session.starts
            found += [
                GroundWay("moved", ground.key, day, starts, starts + length, session.least_thirds)
                for day, starts in session.moves
            ]
        whole_length = session.ends - session.starts
        found.append(GroundWay("off", now.ground, now.day, now.starts, now.ends, 0, whole_length))
    elif session.may_share:
        found += _halves(session, session.ground, session.thirds)
    return found


def _open_to(request: LostRequest, session: GroundSession) -> Iterator[ClubGround]:
    for ground in request.grounds:
        allowed = session.grounds is None or ground.key in session.grounds or ground.key == session.ground
        fits = ground.most_players is None or session.players <= ground.most_players
        if allowed and fits and session.least_thirds <= ground.thirds:
            yield ground


def _halves(session: GroundSession, ground: str, thirds: int) -> list[GroundWay]:
    """Its first half and its second, the other of which is somebody else's."""
    length = session.ends - session.starts
    half = length // 2
    if half < LEAST_HALF_MIN:
        return []
    return [
        GroundWay("half", ground, session.day, starts, starts + half, thirds, length - half)
        for starts in (session.starts, session.ends - half)
    ]
