"""Who came: registers of sessions that were, and so far of those that run, as pages, API and file read them."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import Any, cast
from uuid import UUID

from django.db.models import Exists, FilteredRelation, OuterRef, Q, QuerySet

from club import queries as club
from sessions.choices import STILL_TO_COME, TOOK_PLACE
from sessions.models import Register, TrainingSession
from sessions.planning import attendance as counting
from sessions.planning.attendance import AttendanceCell, Mark, PastSession, PlayerCount, SessionCount, State

WEEKS = 8  # that a player's page, the list of teams and the API look back where nobody says


@dataclass(frozen=True)
class HeldSession:
    """A session as a column: when it was, and whether it still runs."""

    pk: int
    squad_id: int
    public_id: UUID
    title: str
    day: date
    starts: time
    runs: bool
    taken: bool

    @property
    def held(self) -> PastSession:
        return PastSession(self.pk, self.day, self.runs, self.taken)


@dataclass(frozen=True)
class Column:
    """A session with its counts."""

    session: HeldSession
    count: SessionCount


@dataclass(frozen=True)
class PlayerCounts:
    """A player with name and counts. `team` is a guest's own on the day last seen; `left`: no longer on the team's list."""

    public_id: UUID
    name: str
    shirt: int | None
    team: str
    left: bool
    count: PlayerCount

    @property
    def is_guest(self) -> bool:
        return self.count.as_guest

    @property
    def cells(self) -> tuple[AttendanceCell, ...]:
        return self.count.cells


@dataclass(frozen=True)
class TeamAttendance:
    """A team's sessions, oldest first, and its players by name: those on the list, those who left it, guests.

    `guest_squads` are the squads whose players stand among the guests; who reads names is noted for them as well.
    Players whose names were deleted count in the sessions and have no line.
    """

    columns: tuple[Column, ...]
    lines: tuple[PlayerCounts, ...]
    guest_squads: tuple[int, ...] = ()
    without_name: bool = False

    @property
    def first_day(self) -> date | None:
        return self.columns[0].session.day if self.columns else None

    @property
    def last_day(self) -> date | None:
        return self.columns[-1].session.day if self.columns else None


@dataclass(frozen=True)
class PlayerAttendance:
    """A player over all sessions between two days, in every team: came to `came` of `of`, and as a guest to `guest`."""

    came: int
    of: int
    not_marked: int
    guest: int
    minutes: float
    last: date | None


def weeks_back(last: date, weeks: int = WEEKS) -> date:
    """The first of so many weeks that end with a day."""
    return last - timedelta(days=7 * weeks - 1)


def held_sessions(
    squad_ids: Iterable[int], first: date = date.min, last: date = date.max
) -> list[HeldSession]:
    """Sessions of squads that took place or run, between two days, both included; oldest first. One query."""
    return _columns(_held().filter(squad_id__in=list(squad_ids), day__range=(first, last)))


def attendance_of(sessions: Sequence[HeldSession]) -> dict[int, TeamAttendance]:
    """The attendance of squads by their inner id, at sessions that are at hand. Two queries."""
    if not sessions:
        return {}
    marks = _marks([each.pk for each in sessions])
    squads = {each.squad_id for each in sessions}
    days = [club.today(), *(each.day for each in sessions)]  # today's list too: it tells who has left
    marked = {each.player for each in marks}
    times = club.times_in_squads(min(days), max(days), squad_ids=squads, player_ids=marked)
    by_squad = defaultdict(list)
    for each in sessions:
        by_squad[each.squad_id].append(each)
    return {squad_id: _of_squad(squad_id, found, marks, times) for squad_id, found in by_squad.items()}


def attendance_of_player(player: Any, first: date, last: date) -> PlayerAttendance:
    """One player's, over the sessions of each team on the days that the player was in it, and as a guest. Two queries."""
    times = club.times_in_squads(first, last, player_ids=[player.pk])
    sessions, marks = _of_player(player.pk, {each.squad_id for each in times}, first, last)
    found = _counted(sessions, marks, times)
    own = [each for each in found.players if not each.as_guest]
    guest = [each for each in found.players if each.as_guest]
    return PlayerAttendance(
        came=sum(each.came for each in own),
        of=sum(each.of for each in own),
        not_marked=sum(each.not_marked for each in own),
        guest=sum(each.came for each in guest),
        minutes=sum(each.minutes for each in found.players),
        last=max((each.last for each in found.players if each.last), default=None),
    )


def _held() -> QuerySet[TrainingSession]:
    """Sessions that took place, and those of today or before on whose register somebody stands already."""
    register = Exists(Register.objects.filter(session=OuterRef("pk")))
    so_far = Q(state__in=STILL_TO_COME, taken=True, day__lte=club.today())
    return TrainingSession.objects.annotate(taken=register).filter(Q(state__in=TOOK_PLACE) | so_far)


_COLUMN = ("pk", "squad_id", "public_id", "title", "day", "starts", "state", "taken")


def _column(row: Sequence[Any]) -> HeldSession:
    return HeldSession(*row[:6], runs=row[6] in STILL_TO_COME, taken=row[7])


def _columns(found: QuerySet[TrainingSession]) -> list[HeldSession]:
    return [_column(row) for row in found.order_by("day", "starts", "pk").values_list(*_COLUMN)]


def _of_player(
    player_id: int, squad_ids: Iterable[int], first: date, last: date
) -> tuple[list[HeldSession], list[Mark]]:
    """Sessions of these squads, and any others on whose register the player stands, with the player's marks. One query."""
    mark = FilteredRelation("register", condition=Q(register__player_id=player_id))
    there = Q(squad_id__in=list(squad_ids)) | Q(mark__isnull=False)
    found = _held().annotate(mark=mark).filter(there, day__range=(first, last))
    rows = list(
        found.order_by("day", "starts", "pk").values_list(
            *_COLUMN, "mark__state", "mark__minutes", "mark__is_guest"
        )
    )
    marks = [_mark(row[0], player_id, *row[-3:]) for row in rows if row[-3] is not None]
    return [_column(row) for row in rows], marks


def _marks(session_ids: Iterable[int]) -> list[Mark]:
    """What stands on registers: no names, no limits. One query."""
    found = Register.objects.filter(session_id__in=list(session_ids))
    return [
        _mark(*row) for row in found.values_list("session_id", "player_id", "state", "minutes", "is_guest")
    ]


def _mark(session_id: int, player_id: int, state: str, minutes: Any, is_guest: bool) -> Mark:
    return Mark(session_id, player_id, cast(State, state), float(minutes), is_guest)


def _counted(
    sessions: Sequence[HeldSession], marks: Iterable[Mark], times: Iterable[Any]
) -> counting.AttendanceTable:
    in_squad = defaultdict(list)
    for each in times:
        in_squad[each.squad_id].append(each)
    on_list = {
        each.pk: [time.player_id for time in in_squad[each.squad_id] if _there(time, each.day)]
        for each in sessions
    }
    return counting.attendance([each.held for each in sessions], marks, on_list)


def _there(time: Any, day: date) -> bool:
    """Whether a time in a squad holds a day; its upper bound is outside."""
    return (time.period.lower is None or time.period.lower <= day) and (
        time.period.upper is None or day < time.period.upper
    )


def _of_squad(
    squad_id: int, sessions: Sequence[HeldSession], marks: Iterable[Mark], times: Iterable[Any]
) -> TeamAttendance:
    found = _counted(sessions, marks, times)
    of_player = defaultdict(list)
    for each in times:
        of_player[each.player_id].append(each)
    lines = [_line(squad_id, each, of_player[each.player]) for each in found.players]
    named = [each for each in lines if each is not None]
    guests = {each.player for each in found.players if each.as_guest}
    return TeamAttendance(
        columns=tuple(Column(*pair) for pair in zip(sessions, found.sessions, strict=True)),
        lines=tuple(
            sorted(named, key=lambda line: (line.is_guest, line.left, line.name, str(line.public_id)))
        ),
        guest_squads=tuple(sorted({each.squad_id for key in guests for each in of_player[key]} - {squad_id})),
        without_name=len(named) < len(found.players),
    )


def _line(squad_id: int, count: PlayerCount, times: Sequence[Any]) -> PlayerCounts | None:
    """None for a player whose name was deleted, or of whom nothing but the register is known."""
    player = times[0].player if times else None
    if player is None or player.erased_at is not None:
        return None
    elsewhere = [each for each in times if each.squad_id != squad_id]
    home = [each for each in elsewhere if count.last and _there(each, count.last)] or elsewhere
    here = any(each.squad_id == squad_id and _there(each, club.today()) for each in times)
    return PlayerCounts(
        public_id=player.public_id,
        name=player.display_name,
        shirt=player.shirt,
        team=home[0].squad.name if count.as_guest and home else "",
        left=not (count.as_guest or here),
        count=count,
    )
