"""A coach is away: the club's rows as the planner's table, its answer as rows again, session by session."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import time
from typing import Any

from club import queries as club
from club.choices import Role
from club.queries.vetting import why_not_counted
from sessions.choices import STILL_TO_COME, StaffPart
from sessions.models import TrainingSession
from sessions.planning.blocks import (
    CoachAway,
    CoverChange,
    CoverFound,
    CoverPerson,
    CoverRequest,
    CoverSession,
    find_cover,
)
from sessions.queries.mending.lost import SECONDS, WHOLE_DAY, Lost, clock_of, minute_of
from sessions.queries.over_all import over_all
from sessions.queries.rows import frames_between, staff_rows_of
from sessions.queries.together import companions

GROWN_UP = 21  # what "under" stands for where a team has no age: nobody younger trains with it


@dataclass(frozen=True)
class SessionCover:
    """What becomes of one session: who leads (None: as before), who is asked to help, whom it joins, when it is.

    `code` as `CoverChange`; "adult" alone where nothing changes but that somebody helps, "enough" where nobody is needed.
    """

    session: TrainingSession
    code: str
    starts: time
    ends: time
    lost_minutes: int
    beside: tuple[TrainingSession, ...]
    leads: Any = None
    helpers: tuple[Any, ...] = ()
    host: TrainingSession | None = None
    without: int | None = None  # the inner id of who is away

    @property
    def is_off(self) -> bool:
        return self.code == "off"

    @property
    def people(self) -> tuple[int, ...]:
        """Inner ids of who is down for it from now on, the leader first."""
        down = [int(each["pk"]) for each in staff_rows_of(self.session) if each["pk"] != self.without]
        leads = [self.leads.pk] if self.leads else []
        return tuple(dict.fromkeys([*leads, *down, *(each.pk for each in self.helpers)]))


@dataclass(frozen=True)
class Covered:
    """What is hit, what becomes of it in the order in which it can be done, and how good the answer is."""

    lost: Lost
    hit: list[TrainingSession]
    steps: list[SessionCover]
    found: CoverFound


def cover_for(lost: Lost) -> Covered:
    """What could become of each session that somebody is missed at. Five queries; the search takes 4 s at most."""
    rows = [
        each
        for each in frames_between(lost.first, lost.last)
        if each.state in STILL_TO_COME and staff_rows_of(each)
    ]
    people = {str(each.pk): each for each in club.people(with_checks=True)}
    request = _request(lost, rows, people)
    found = find_cover(request, seconds=SECONDS)
    by_key = {str(each.pk): each for each in rows}
    hit = [each for each in rows if _is_missed(each, lost)]
    return Covered(lost, hit, _steps(found, by_key, people, lost), found)


def _request(lost: Lost, rows: Iterable[TrainingSession], people: Mapping[str, Any]) -> CoverRequest:
    sessions = tuple(_session(each, lost) for each in rows)
    who = club.roster()
    keys = dict.fromkeys([*people, *(key for each in sessions for key in each.staff)])
    return CoverRequest(
        sessions=sessions,
        people=tuple(_person(key, people.get(key), who, lost) for key in keys),
        away=(
            CoachAway(
                str(lost.what.pk),
                0,
                lost.number(lost.last),
                *lost.span,
            ),
        ),
    )


def _session(row: TrainingSession, lost: Lost) -> CoverSession:
    """Players and adults are counted over all that it is together with, as everywhere."""
    staff = staff_rows_of(row)
    leads = next((each for each in staff if each["part"] == StaffPart.LEADS), staff[0])
    beside = [each for other in companions(row) for each in other.staff]
    night = over_all(row)
    return CoverSession(
        key=str(row.pk),
        team=str(row.squad_id),
        under=row.age_group.under or GROWN_UP,
        day=lost.number(row.day),
        starts=minute_of(row.starts),
        ends=minute_of(row.ends),
        players=max(1, night.players),
        lead=str(leads["pk"]),
        staff=tuple(dict.fromkeys(str(each["pk"]) for each in (*staff, *beside))),
        rule=night.rule,
    )


def _person(key: str, user: Any, who: Any, lost: Lost) -> CoverPerson:
    """Whoever has a role at the pitch may be asked; to lead, coaches and the director."""
    roles = [each for each in who.roles if str(each.user_id) == key]
    free = tuple((lost.number(day), *WHOLE_DAY) for day in lost.days if any(each.on(day) for each in roles))
    checks = getattr(user, "checks", None)
    adult = checks is not None and (
        why_not_counted(of_age=checks.of_age, vetting_until=checks.vetting_until, day=lost.last) is None
    )
    may_lead = any(each.role in (Role.COACH, Role.DIRECTOR) for each in roles)
    return CoverPerson(key, adult=adult, may_lead=may_lead, free=free)


def _is_missed(row: TrainingSession, lost: Lost) -> bool:
    """Whether who is away is down for it at a time when they are."""
    return any(each["pk"] == lost.what.pk for each in staff_rows_of(row)) and lost.meets(
        row.day, row.starts, row.ends
    )


@dataclass
class _Draft:
    change: CoverChange | None = None
    helpers: list[str] = field(default_factory=list)
    needs: set[str] = field(default_factory=set)


def _steps(
    found: CoverFound, by_key: Mapping[str, TrainingSession], people: Mapping[str, Any], lost: Lost
) -> list[SessionCover]:
    """One step a session, hosts before their guests; where enough are left, who is away is taken off the list."""
    drafts = {key: _Draft() for key, row in by_key.items() if found.measures and _is_missed(row, lost)}
    for each in found.changes:
        draft = drafts.setdefault(each.session, _Draft())
        draft.needs |= {key.split("+")[0] for key in each.needs} - {each.session}
        if each.code == "adult":
            draft.helpers.append(each.person)
        else:
            draft.change = each
    steps = [_step(key, draft, by_key, people, lost) for key, draft in drafts.items()]
    return sorted(
        steps,
        key=lambda each: (each.session.day, each.host is not None, each.session.starts, each.session.pk),
    )


def _step(
    key: str, draft: _Draft, by_key: Mapping[str, TrainingSession], people: Mapping[str, Any], lost: Lost
) -> SessionCover:
    row, change = by_key[key], draft.change
    stays = change is not None and change.person == str(
        lost.what.pk
    )  # for the part of it that they are there
    return SessionCover(
        session=row,
        code=change.code if change else "adult" if draft.helpers else "enough",
        starts=clock_of(change.starts) if change and change.code != "off" else row.starts,
        ends=clock_of(change.ends) if change and change.code != "off" else row.ends,
        lost_minutes=change.lost_minutes if change else 0,
        beside=tuple(by_key[each] for each in sorted(draft.needs)),
        leads=people.get(change.person) if change else None,
        helpers=tuple(people[each] for each in draft.helpers),
        host=by_key[change.host] if change and change.host else None,
        without=lost.what.pk if _is_missed(row, lost) and not stays else None,
    )
