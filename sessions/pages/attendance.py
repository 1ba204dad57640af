"""Who came, as pages, API and file show it: a team over some weeks, all teams in a line each, one player."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from club import queries as club
from club.actor import Actor
from sessions.choices import Attendance as Word
from sessions.pages.weeks import iso_week
from sessions.planning.attendance import spans
from sessions.queries.recorded.attendance import (
    Column,
    PlayerAttendance,
    PlayerCounts,
    TeamAttendance,
    attendance_of,
    attendance_of_player,
    held_sessions,
    weeks_back,
)

Value = str | int | float | None  # a cell of a table
NOT_MARKED = "not marked"
MOST_DAYS = 366  # of one answer or file


@dataclass(frozen=True)
class TeamPage:
    """A team's attendance over some whole weeks. `earlier` and `later` name a week of the span before and after."""

    squad: Any
    attendance: TeamAttendance
    first: date
    last: date
    earlier: str = ""
    later: str = ""

    @property
    def groups(self) -> list[tuple[str, list[PlayerCounts]]]:
        """Lines under their headings: the team, who is no longer in it, guests."""
        named = {
            "": [each for each in self.attendance.lines if not (each.is_guest or each.left)],
            _("No longer in the team"): [each for each in self.attendance.lines if each.left],
            _("Guests from other teams"): [each for each in self.attendance.lines if each.is_guest],
        }
        return [(heading, lines) for heading, lines in named.items() if lines]

    @property
    def runs(self) -> bool:
        """Whether one of the sessions is still to be marked as done."""
        return any(each.session.runs for each in self.attendance.columns)


@dataclass(frozen=True)
class TeamLine:
    """A team in the list: how many came of how many, a session's mean, and its last session."""

    squad: Any
    sessions: int
    came: int
    listed: int
    last: Column | None


def team_attendance(squad: Any, first: date, last: date, *, with_names: bool) -> TeamAttendance:
    """A team's attendance between two days, both included, with players for whom they may be named to. Three queries."""
    return _seen(attendance_of(held_sessions([squad.pk], first, last)).get(squad.pk), with_names)


def attendance_page(squad: Any, week: date | None, *, with_names: bool) -> TeamPage:
    """The weeks that hold the week asked for, or the latest. Three queries."""
    sessions = held_sessions([squad.pk])
    weeks = spans([each.day for each in sessions])
    if not weeks:
        return TeamPage(squad, TeamAttendance((), ()), club.today(), club.today())
    at = 0 if week is None else next((n for n, span in enumerate(weeks) if span[0] <= week), len(weeks) - 1)
    first, last = weeks[at]
    shown = [each for each in sessions if first <= each.day <= last]
    return TeamPage(
        squad=squad,
        attendance=_seen(attendance_of(shown)[squad.pk], with_names),
        first=first,
        last=last,
        earlier=iso_week(weeks[at + 1][0]) if at < len(weeks) - 1 else "",
        later=iso_week(weeks[at - 1][0]) if at else "",
    )


def _seen(found: TeamAttendance | None, with_names: bool) -> TeamAttendance:
    """Counts alone for whoever may not read names."""
    if found is None:
        return TeamAttendance((), ())
    return found if with_names else TeamAttendance(found.columns, (), without_name=found.without_name)


def teams_attending(actor: Actor) -> list[TeamLine]:
    """The teams whose attendance this person may see, over the last weeks; own age groups for coaches and helpers."""
    everybody = actor.is_director or actor.is_reader
    squads = list(club.squads(age_group_ids=None if everybody else actor.age_groups))
    last = club.today()
    sessions = held_sessions([each.pk for each in squads], weeks_back(last), last)
    found = attendance_of(sessions)
    return [_team(each, found[each.pk].columns if each.pk in found else ()) for each in squads]


def _team(squad: Any, columns: Sequence[Column]) -> TeamLine:
    counts = [each.count for each in columns if each.session.taken and not each.session.runs]
    return TeamLine(
        squad=squad,
        sessions=len(counts),
        came=_mean(each.came for each in counts),
        listed=_mean(each.listed for each in counts),
        last=next((each for each in reversed(columns) if each.session.taken), None),
    )


def _mean(figures: Iterable[int]) -> int:
    found = list(figures)
    return round(sum(found) / len(found)) if found else 0


def player_attendance(player: Any) -> PlayerAttendance:
    """One player over the last weeks. Two queries."""
    last = club.today()
    return attendance_of_player(player, weeks_back(last), last)


def word_of(state: str) -> str:
    """A mark in words, as the register says it; empty for a player who was not on the list."""
    if state in Word.values:
        return str(Word(state).label)
    return _("Not marked") if state == NOT_MARKED else ""


def table_of(squad: Any, found: TeamAttendance) -> list[list[Value]]:
    """A team's attendance as rows: a head, a row for each player, and the sessions' counts below."""
    sessions = [each.session for each in found.columns]
    head = [_("Player"), _("Number"), _("Team")]
    head += [f"{each.day:%Y-%m-%d} {each.starts:%H:%M}" for each in sessions]
    rows: list[list[Value]] = [[*head, _("Came"), _("Of"), _("Minutes"), _("Last time")]]
    rows += [_row(squad, each) for each in found.lines]
    for title, figures in _foot(found):
        rows.append([title, None, squad.name, *figures, None, None, None, None])
    return rows


def _row(squad: Any, line: PlayerCounts) -> list[Value]:
    words = [word_of(each.word) for each in line.cells]
    count = line.count
    last = None if count.last is None else count.last.isoformat()
    team = line.team if line.is_guest else squad.name
    return [line.name, line.shirt, team, *words, count.came, count.of, round(count.minutes, 1), last]


def _foot(found: TeamAttendance) -> list[tuple[str, list[Value]]]:
    counts = [each.count if each.session.taken else None for each in found.columns]
    return [
        (_("Came"), [each and each.came for each in counts]),
        (_("On the list"), [each and each.listed for each in counts]),
        (_("Not marked"), [each and each.not_marked for each in counts]),
        (_("Guests"), [each and each.guests for each in counts]),
    ]
