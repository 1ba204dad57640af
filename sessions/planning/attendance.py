"""Who came over several sessions: counts per session and per player, from marks of the register and the lists of the days.

A player is listed for a session who was on its team's list that day, or was marked without being a guest. Only sessions
whose register was taken (somebody was marked) are counted. Once a session is over, a listed player without a mark counts
as not there; while it runs, as not asked yet.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

Key = int
State = Literal["here", "late", "left", "watching", "absent"]
Word = Literal["here", "late", "left", "watching", "absent", "not marked", ""]
MOST_ACROSS = 8  # sessions beside one another that a page still shows


@dataclass(frozen=True, slots=True)
class PastSession:
    """A session that was, or that runs: still to be marked as done. `taken`: somebody was marked on its register."""

    key: Key
    day: date
    runs: bool = False
    taken: bool = True


@dataclass(frozen=True, slots=True)
class Mark:
    """What the register says of a player in a session; `minutes` taking part, 0 while the session runs."""

    session: Key
    player: Key
    state: State
    minutes: float = 0.0
    as_guest: bool = False


@dataclass(frozen=True, slots=True)
class SessionCount:
    """A session's register in figures. `came` of `listed` are the team's own; `guests` came from other teams."""

    session: PastSession
    came: int
    listed: int
    not_marked: int
    guests: int

    @property
    def turn_out(self) -> int:
        """Everybody who came, guests among them."""
        return self.came + self.guests


@dataclass(frozen=True, slots=True)
class AttendanceCell:
    """A player at a session: the word, empty where the player was not on the list, and minutes once it is over."""

    word: Word
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class PlayerCount:
    """A player over the sessions, once as one of the team and once as a guest. `cells` go with the sessions' order."""

    player: Key
    as_guest: bool
    cells: tuple[AttendanceCell, ...]
    came: int
    of: int
    not_marked: int
    minutes: float
    last: date | None


@dataclass(frozen=True, slots=True)
class AttendanceTable:
    """Sessions in their order, and players by key, the team's own before guests."""

    sessions: tuple[SessionCount, ...]
    players: tuple[PlayerCount, ...]


def attendance(
    sessions: Sequence[PastSession], marks: Iterable[Mark], on_list: Mapping[Key, Iterable[Key]]
) -> AttendanceTable:
    """Count sessions, oldest first. `on_list`: session → players on its team's list that day."""
    asked = {each.key: set(on_list.get(each.key, ())) for each in sessions}
    own: dict[Key, dict[Key, Mark]] = {each.key: {} for each in sessions}
    guests: dict[Key, dict[Key, Mark]] = {each.key: {} for each in sessions}
    for mark in marks:
        if mark.session not in asked:
            continue
        if mark.as_guest and mark.player not in asked[mark.session]:
            guests[mark.session][mark.player] = mark
        else:
            asked[mark.session].add(mark.player)
            own[mark.session][mark.player] = mark
    counts = tuple(_session(each, asked[each.key], own[each.key], guests[each.key]) for each in sessions)
    players = [
        *_players(counts, own, asked, as_guest=False),
        *_players(counts, guests, {key: set(marked) for key, marked in guests.items()}, as_guest=True),
    ]
    return AttendanceTable(counts, tuple(players))


def _session(
    session: PastSession, listed: set[Key], own: Mapping[Key, Mark], guests: Mapping[Key, Mark]
) -> SessionCount:
    return SessionCount(
        session=session,
        came=_came(own.values()),
        listed=len(listed),
        not_marked=len(listed) - len(own),
        guests=_came(guests.values()),
    )


def _came(marks: Iterable[Mark]) -> int:
    return sum(mark.state != "absent" for mark in marks)


def _players(
    counts: Sequence[SessionCount],
    marks: Mapping[Key, Mapping[Key, Mark]],
    listed: Mapping[Key, set[Key]],
    *,
    as_guest: bool,
) -> list[PlayerCount]:
    keys = sorted(set().union(*listed.values())) if listed else []
    return [_player(key, counts, marks, listed, as_guest=as_guest) for key in keys]


def _player(
    key: Key,
    counts: Sequence[SessionCount],
    marks: Mapping[Key, Mapping[Key, Mark]],
    listed: Mapping[Key, set[Key]],
    *,
    as_guest: bool,
) -> PlayerCount:
    cells, days, of, missing = [], [], 0, 0
    for count in counts:
        session = count.session
        mark = marks[session.key].get(key)
        cells.append(_cell(count, mark, is_listed=key in listed[session.key]))
        if mark is not None and mark.state != "absent":
            days.append(session.day)
        unknown = mark is None and (session.runs or not session.taken)
        if key in listed[session.key] and not unknown:
            of += 1
            missing += mark is None
    return PlayerCount(
        player=key,
        as_guest=as_guest,
        cells=tuple(cells),
        came=len(days),
        of=of,
        not_marked=missing,
        minutes=sum(each.minutes or 0.0 for each in cells),
        last=max(days, default=None),
    )


def _cell(count: SessionCount, mark: Mark | None, *, is_listed: bool) -> AttendanceCell:
    if mark is not None:
        return AttendanceCell(mark.state, None if count.session.runs else mark.minutes)
    return AttendanceCell("not marked" if is_listed and count.session.taken else "")


def spans(days: Sequence[date], most: int = MOST_ACROSS) -> list[tuple[date, date]]:
    """Whole weeks, Monday to Sunday, that together hold at most so many of these days; the latest span first.

    A week with more stands alone. Every day lies in one span.
    """
    by_week: dict[date, int] = {}
    for day in days:
        monday = day - timedelta(days=day.weekday())
        by_week[monday] = by_week.get(monday, 0) + 1
    found: list[tuple[date, date]] = []
    held = 0
    for monday in sorted(by_week, reverse=True):
        held += by_week[monday]
        if found and held <= most:
            found[-1] = (monday, found[-1][1])
        else:
            held = by_week[monday]
            found.append((monday, monday + timedelta(days=6)))
    return found
