"""What a session costs, planned and as run: our own rules (common practice, no source), told as a coach would reckon them."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.account import Account, account
from sessions.planning.fold import Event, fold, parse_event
from sessions.planning.plan import PlannedPart, SessionPlan

SIX = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
# Four rounds of 2 min with 1 min between: 11 of its 12 minutes, 8 of them play.
HEADERS = PlannedPart("headers", 12, 5, bouts=4, bout_s=120, rest_s=60, changeover_s=60, headers_per_player=8)
PLAN = SessionPlan(
    60, (PlannedPart("warm", 10, 3), HEADERS, PlannedPart("game", 30, 6, changeover_s=120)), starts_at=SIX
)


def event(n: int, kind: str, minute: float, **body: Any) -> Event:
    at = SIX + timedelta(minutes=minute)
    return parse_event({"id": f"e{n:03}", "kind": kind, "at": at.isoformat(), **body})


def ran(*taps: tuple[Any, ...]) -> Account:
    """The account after taps of (kind, minute, body)."""
    events = [
        event(n, kind, minute, **(body[0] if body else {})) for n, (kind, minute, *body) in enumerate(taps)
    ]
    return account(PLAN, fold(PLAN, events))


def test_as_planned_is_as_planned_whether_anybody_tapped_or_not() -> None:
    planned = account(PLAN)
    assert (planned.load_au, planned.headers, planned.heading_minutes) == (30 + 60 + 180 + 3, 8, 12)
    said = ran(("delivered", 60))
    tapped = ran(
        ("part_started", 0, {"part": "warm"}),
        ("next_part", 10, {"part": "headers"}),
        ("next_part", 22, {"part": "game"}),
        ("part_ended", 52, {"part": "game"}),
        ("delivered", 60),
    )
    for found in (said, tapped):
        assert (found.load_au, found.headers, found.heading_minutes) == (273, 8, 12)
        assert [part.bouts for part in found.parts] == [1, 4, 1]
    assert [part.how for part in said.parts] == ["said"] * 3
    assert [part.how for part in tapped.parts] == ["clock"] * 3


def test_the_changeover_into_the_next_part_is_not_the_parts_own_time() -> None:
    """Nobody ends a part: the next one begins, once it is laid. Minutes that it ran over are its own all the same."""
    found = ran(
        ("part_started", 0, {"part": "warm"}),
        ("next_part", 11, {"part": "headers"}),  # 10 min and 1 of changeover
        ("next_part", 28, {"part": "game"}),  # 12 min, 2 of changeover, 3 more
        ("part_ended", 58, {"part": "game"}),
        ("delivered", 60),
    )
    assert [part.minutes for part in found.parts] == [10, 15, 30]
    assert found.changeovers_au == 3


@pytest.mark.parametrize(
    ("ended", "headers", "bouts"),
    [
        (1, 1, 1),  # half of the first round: one of eight headers
        (2, 2, 1),
        (3, 2, 1),  # the rest is no play
        (4, 3, 2),
        (9.5, 7, 4),  # three rounds and half a minute: 6.5 of 8 min
        (11, 8, 4),
        (14, 8, 4),  # talking after the last round heads no ball
    ],
)
def test_headers_go_by_seconds_of_play_rounded_up(ended: float, headers: int, bouts: int) -> None:
    found = ran(
        ("part_started", 0, {"part": "headers"}),
        ("part_ended", ended, {"part": "headers"}),
        ("shortened", 20, {"minutes": 20}),
    ).part("headers")
    assert (found.headers, found.bouts, found.minutes) == (headers, bouts, ended)


def test_a_pause_is_no_play_and_a_minute_given_is() -> None:
    taps = [
        ("part_started", 0, {"part": "headers"}),
        ("bout_held", 1, {"part": "headers"}),
        ("bout_resumed", 4, {"part": "headers"}),
    ]
    end = [("part_ended", 5, {"part": "headers"}), ("shortened", 20, {"minutes": 20})]
    held = ran(*taps, *end).part("headers")
    assert (held.minutes, held.headers) == (5, 2)
    more = ran(
        ("part_started", 0, {"part": "headers"}),
        ("minute_more", 8, {"part": "headers"}),
        ("part_ended", 12, {"part": "headers"}),
        ("shortened", 20, {"minutes": 20}),
    ).part("headers")
    assert more.headers == 9  # nine minutes of play for eight planned


def test_rounds_left_out_take_their_headers_along() -> None:
    found = ran(("bout_dropped", 0, {"part": "headers"}), ("delivered", 60)).part("headers")
    assert (found.headers, found.bouts, found.minutes) == (6, 3, 9)


def test_what_was_skipped_or_never_began_costs_nothing() -> None:
    found = ran(
        ("part_started", 0, {"part": "warm"}),
        ("part_skipped", 9, {"part": "headers"}),
        ("next_part", 10, {"part": "game"}),
        ("part_ended", 40, {"part": "game"}),
        ("delivered", 45),
    )
    assert [part.how for part in found.parts] == ["clock", "skipped", "clock"]
    assert (found.headers, found.load_au) == (0, 30 + 180 + 2)
    shorter = ran(("part_started", 0, {"part": "warm"}), ("shortened", 10, {"minutes": 10}))
    assert [part.how for part in shorter.parts] == ["clock", "not_run", "not_run"]


def test_a_coach_who_stopped_tapping_is_taken_at_their_word() -> None:
    found = ran(("part_started", 0, {"part": "warm"}), ("delivered", 60))
    assert [(part.how, part.minutes) for part in found.parts] == [("clock", 10), ("said", 12), ("said", 30)]
    assert found.headers == 8


def test_minutes_that_were_said_leave_no_room_for_what_nobody_tapped() -> None:
    found = ran(("part_started", 0, {"part": "warm"}), ("delivered", 30, {"minutes": 30}))
    assert [part.how for part in found.parts] == ["clock", "not_run", "not_run"]
    assert found.headers == 0


def test_a_part_that_is_not_in_the_plan_has_no_account() -> None:
    with pytest.raises(KeyError):
        account(PLAN).part("tea")


def test_cut_short_without_a_clock_costs_its_share() -> None:
    found = ran(("shortened", 30, {"minutes": 30}))
    assert found.load_au == pytest.approx(273 / 2)
    assert found.headers == 4
    assert ran(("cancelled", 5, {"reason": "weather"})).load_au == 0


@given(
    ended=st.floats(0, 40),
    held=st.floats(0, 10),
    extra=st.integers(0, 5),
    dropped=st.integers(0, 4),
)
def test_play_is_what_a_stopwatch_would_count(ended: float, held: float, extra: int, dropped: int) -> None:
    """Oracle: the part gone through second by second."""
    taps: list[tuple[Any, ...]] = [("part_started", 0, {"part": "headers"})]
    taps += [("minute_more", 0, {"part": "headers"})] * extra
    if dropped:
        taps.append(("bout_dropped", 0, {"part": "headers", "bouts": dropped}))
    taps += [("bout_held", 0, {"part": "headers"}), ("bout_resumed", held, {"part": "headers"})]
    taps += [("part_ended", held + ended, {"part": "headers"}), ("shortened", 59, {"minutes": 59})]
    found = ran(*taps).part("headers")
    bouts = 4 - dropped
    playing = ([True] * 120 + [False] * 60) * bouts
    playing = playing[:-60] + [True] * 60 * extra if bouts else [True] * 60 * extra
    counted = sum(playing[: int(ended * 60)])
    assert found.work_share * 480 == pytest.approx(counted, abs=1.5)


def test_parts_after_the_last_one_tapped_count_only_where_nobody_said_when_it_ended() -> None:
    """A phone that was put away says nothing of what came after; minutes that somebody says do."""
    begun = ("part_started", 0, {"part": "warm"})
    assert [each.how for each in ran(begun, ("delivered", 60)).parts] == ["clock", "said", "said"]
    assert [each.how for each in ran(begun, ("delivered", 60, {"minutes": 15})).parts] == [
        "clock",
        "not_run",
        "not_run",
    ]
    assert [each.how for each in ran(begun, ("shortened", 15, {"minutes": 15})).parts] == [
        "clock",
        "not_run",
        "not_run",
    ]


def test_of_a_session_that_nobody_began_or_ended_nothing_was_run() -> None:
    assert [(each.how, each.minutes, each.load_au) for each in ran().parts] == [("not_run", 0, 0)] * 3


def test_a_pause_lengthens_no_play() -> None:
    """Held for three minutes, then played to its end and talked about: eight headers, as planned."""
    found = ran(
        ("part_started", 0, {"part": "headers"}),
        ("bout_held", 1, {"part": "headers"}),
        ("bout_resumed", 4, {"part": "headers"}),
        ("part_ended", 18, {"part": "headers"}),
        ("shortened", 20, {"minutes": 20}),
    ).part("headers")
    assert (found.headers, found.bouts) == (8, 4)
