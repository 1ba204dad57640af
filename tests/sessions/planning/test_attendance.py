"""Who came: counted against a second way of counting, and weeks that hold every day once."""

import itertools
from datetime import date, timedelta
from typing import Any

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.attendance import AttendanceTable, Mark, PastSession, SessionCount, attendance, spans

MONDAY = date(2026, 11, 2)
STATES = ("here", "late", "left", "watching", "absent")
CAME = {"here", "late", "left", "watching"}


@st.composite
def registers(draw: Any) -> tuple[list[PastSession], list[Mark], dict[int, list[int]]]:
    """Up to six sessions of up to eight players, some done without a register, some still running."""
    sessions, marks, on_list = [], [], {}
    for key in range(draw(st.integers(0, 6))):
        players = draw(st.dictionaries(st.integers(1, 8), st.tuples(st.sampled_from(STATES), st.booleans())))
        on_list[key] = draw(st.lists(st.integers(1, 8), unique=True))
        runs = bool(players) and draw(st.booleans())
        sessions.append(PastSession(key, MONDAY + timedelta(days=3 * key), runs, taken=bool(players)))
        for player, (state, guest) in players.items():
            minutes = 0.0 if runs or state == "absent" else float(draw(st.integers(0, 90)))
            marks.append(Mark(key, player, state, minutes, guest))
    return sessions, marks, on_list


def counted_otherwise(
    sessions: list[PastSession], marks: list[Mark], on_list: dict[int, list[int]]
) -> tuple[dict[int, tuple[int, ...]], dict[tuple[int, bool], tuple[float, ...]]]:
    """The same figures from one long table: per session (came, listed, not marked, guests), per player (came, of, minutes)."""
    held = {each.key: each for each in sessions}
    rows = {(s, p): (s, p, "", 0.0, False) for s, players in on_list.items() for p in players}
    for mark in marks:
        guest = mark.as_guest and mark.player not in on_list[mark.session]
        rows[mark.session, mark.player] = (mark.session, mark.player, mark.state, mark.minutes, guest)
    table = pd.DataFrame(list(rows.values()), columns=["session", "player", "state", "minutes", "guest"])
    table["came"] = table["state"].isin(CAME)
    table["known"] = [
        state != "" or (held[s].taken and not held[s].runs)
        for s, state in zip(table.session, table.state, strict=True)
    ]
    per_session = {}
    for each in sessions:
        own = table[(table.session == each.key) & ~table.guest.astype(bool)]
        others = table[(table.session == each.key) & table.guest.astype(bool)]
        per_session[each.key] = (
            int(own.came.sum()),
            len(own),
            int((own.state == "").sum()),
            int(others.came.sum()),
        )
    per_player = {
        (int(player), bool(guest)): (int(rows.came.sum()), int(rows.known.sum()), float(rows.minutes.sum()))
        for (player, guest), rows in table.groupby(["player", "guest"])
    }
    return per_session, per_player


@given(registers())
def test_counts_are_those_of_a_table_counted_otherwise(
    drawn: tuple[list[PastSession], list[Mark], dict[int, list[int]]],
) -> None:
    found = attendance(*drawn)
    per_session, per_player = counted_otherwise(*drawn)
    assert {
        each.session.key: (each.came, each.listed, each.not_marked, each.guests) for each in found.sessions
    } == per_session
    assert {
        (each.player, each.as_guest): (each.came, each.of, each.minutes) for each in found.players
    } == per_player


@given(registers())
def test_players_and_sessions_add_up_to_the_same(
    drawn: tuple[list[PastSession], list[Mark], dict[int, list[int]]],
) -> None:
    found = attendance(*drawn)
    own = [each for each in found.players if not each.as_guest]
    guests = [each for each in found.players if each.as_guest]
    done = [each for each in found.sessions if each.session.taken and not each.session.runs]
    assert sum(each.came for each in own) == sum(each.came for each in found.sessions)
    assert sum(each.came for each in guests) == sum(each.guests for each in found.sessions)
    assert sum(each.not_marked for each in own) == sum(each.not_marked for each in done)
    assert all(each.came + each.not_marked <= each.of for each in found.players)
    assert all(len(each.cells) == len(found.sessions) for each in found.players)


def one(state: str | None, **held: Any) -> AttendanceTable:
    marks = [] if state is None else [Mark(1, 7, state, 60.0)]  # type: ignore[arg-type]
    return attendance([PastSession(1, MONDAY, **held)], marks, {1: [7, 8]})


@pytest.mark.parametrize("state", STATES)
def test_everybody_came_who_was_there_at_some_time(state: str) -> None:
    found = one(state)
    assert found.sessions[0].came == (state != "absent")
    assert [each.word for each in (*found.players[0].cells, *found.players[1].cells)] == [state, "not marked"]


def test_not_marked_is_not_there_once_a_session_is_over_and_not_known_before() -> None:
    over, runs = one("here"), one("here", runs=True)
    assert [(each.came, each.of, each.not_marked) for each in over.players] == [(1, 1, 0), (0, 1, 1)]
    assert [(each.came, each.of, each.not_marked) for each in runs.players] == [(1, 1, 0), (0, 0, 0)]
    assert (over.players[0].cells[0].minutes, runs.players[0].cells[0].minutes) == (60.0, None)


def test_a_session_without_a_register_counts_for_nobody() -> None:
    found = one(None, taken=False)
    assert [(each.of, each.cells[0].word) for each in found.players] == [(0, ""), (0, "")]


def test_a_guest_who_joins_stands_once_as_a_guest_and_once_in_the_team() -> None:
    sessions = [PastSession(1, MONDAY), PastSession(2, MONDAY + timedelta(days=7))]
    marks = [
        Mark(1, 7, "here", 50, as_guest=True),
        Mark(2, 7, "late", 40),
        Mark(2, 8, "here", 60, as_guest=True),
    ]
    found = attendance(sessions, marks, {2: [7, 8]})
    assert [(each.player, each.as_guest, each.came, each.of, each.minutes) for each in found.players] == [
        (7, False, 1, 1, 40),
        (8, False, 1, 1, 60),  # on the list, whatever was tapped
        (7, True, 1, 1, 50),
    ]
    assert [each.turn_out for each in found.sessions] == [1, 2]
    assert found.sessions[0] == SessionCount(sessions[0], came=0, listed=0, not_marked=0, guests=1)


@given(st.lists(st.integers(0, 200).map(lambda n: MONDAY + timedelta(days=n))), st.integers(1, 9))
def test_spans_hold_every_day_once_in_whole_weeks(days: list[date], most: int) -> None:
    found = spans(days, most)
    assert all(first.weekday() == 0 and last.weekday() == 6 for first, last in found)
    assert all(later[0] > earlier[1] for later, earlier in itertools.pairwise(found))
    for day in days:
        assert sum(first <= day <= last for first, last in found) == 1
    for first, last in found:
        inside = [day for day in days if first <= day <= last]
        assert inside
        assert len(inside) <= most or last - first == timedelta(days=6)


def test_a_team_that_trains_twice_a_week_sees_four_weeks_at_a_time() -> None:
    days = [MONDAY + timedelta(days=7 * week + day) for week in range(10) for day in (1, 3)]
    found = spans(days)
    assert [(last - first).days + 1 for first, last in found] == [28, 28, 14]
    assert found[0][1] == MONDAY + timedelta(days=69)
