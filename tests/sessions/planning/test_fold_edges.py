"""What two phones, a wrong clock and a tap too many leave of an evening: our own rules, told as a coach would."""

from datetime import UTC, datetime, timedelta
from typing import Any

import msgspec
import pytest

from sessions.planning.fold import (
    DeliveryState,
    Event,
    PartState,
    SessionLimits,
    bodies,
    event_problems,
    fold,
    minutes_present,
    parse_event,
)
from sessions.planning.plan import PlannedPart, SessionPlan

SIX = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
PLAN = SessionPlan(60, (PlannedPart("warm", 10, 3), PlannedPart("game", 40, 6)), starts_at=SIX)
UNPLANNED = SessionPlan(60, PLAN.parts)  # nobody said when it begins


def event(n: int, kind: str, minute: float = 0, **body: Any) -> Event:
    at = SIX + timedelta(minutes=minute)
    return parse_event({"id": f"e{n:03}", "kind": kind, "at": at.isoformat(), **body})


def part(events: list[Event], key: str = "game") -> PartState:
    return next(each for each in fold(PLAN, events).parts if each.key == key)


def minute(at: datetime | None) -> float | None:
    return None if at is None else (at - SIX).total_seconds() / 60


# Every kind that leaves a moment behind, and ends that close what still runs.
EVENING = [
    event(1, "part_started", 1, part="warm"),
    event(2, "late", 3, player="ada"),
    event(3, "watching", 4, player="ada"),
    event(4, "left", 6, player="bo"),
    event(5, "next_part", 12, part="game"),
    event(6, "bout_held", 14, part="game"),
    event(7, "bout_resumed", 17, part="game"),
    event(8, "part_ended", 20, part="game"),
    event(9, "part_started", 22, part="warm"),
    event(10, "limited", 23, player="ada"),
    event(11, "heat", 24, temperature_c=31, humidity_pct=50),
    event(12, "thunder", 25),
    event(13, "note", 26, text="Ponies on the pitch."),
    event(14, "bout_held", 28, part="warm"),
    event(15, "part_skipped", 30, part="warm"),
    event(16, "part_started", 31, part="game"),
    event(17, "bout_held", 32, part="game"),
    event(18, "delivered", 40),
    event(19, "collected", 45),
]


def test_what_a_phones_clock_shows_is_never_seen() -> None:
    """A phone that runs seven minutes ahead, or three behind, leaves what a right one leaves: it says how wrong it is."""
    for skew_min in (7, -3):
        wrong = [
            msgspec.structs.replace(each, at=each.at + timedelta(minutes=skew_min), skew_ms=skew_min * 60_000)
            for each in EVENING
        ]
        assert fold(PLAN, wrong) == fold(PLAN, EVENING)
        assert fold(UNPLANNED, wrong) == fold(UNPLANNED, EVENING)


def test_that_evening_by_hand() -> None:
    state = fold(PLAN, EVENING)
    warm, game = state.parts
    assert [minute(at) for at in (warm.started_at, warm.ended_at, game.started_at, game.ended_at)] == [
        1,
        30,
        12,
        40,
    ]
    assert (warm.held_s, game.held_s) == (2 * 60, (3 + 8) * 60)
    assert (warm.skipped, warm.ended_by_itself, game.ended_by_itself) == (False, False, True)
    assert [minute(each) for each in (state.thunder_at, state.collected_at, state.notes[0].at)] == [
        25,
        45,
        26,
    ]
    assert state.heat is not None
    assert (minute(state.heat.at), state.collected_by, state.notes[0].id) == (24, "e019", "e013")
    spells = [
        (minute(each.starts_at), minute(each.ends_at), each.taking_part)
        for each in state.register["ada"].spells
    ]
    assert spells == [(3, 4, True), (4, 23, False), (23, None, True)]
    assert minutes_present(state, "bo") == 6


def test_a_second_phone_that_starts_the_part_ends_no_pause() -> None:
    taps = [event(1, "part_started", part="game"), event(2, "bout_held", 5, part="game")]
    again = [*taps, event(3, "next_part", 6, part="game")]
    assert part(again) == part(taps)
    assert part([*again, event(4, "bout_resumed", 9, part="game")]).held_s == 4 * 60


def test_what_runs_on_after_its_end_keeps_its_first_start() -> None:
    taps = [
        event(1, "part_started", 2, part="game"),
        event(2, "part_ended", 10, part="game"),
        event(3, "part_ended", 12, part="game"),
    ]
    assert (minute(part(taps).started_at), minute(part(taps).ended_at)) == (2, 10)
    on = part([*taps, event(4, "part_started", 14, part="game")])
    assert (minute(on.started_at), on.ended_at, on.skipped) == (2, None, False)


def test_the_next_part_ends_what_runs_and_nothing_else() -> None:
    taps = [
        event(1, "part_started", 1, part="warm"),
        event(2, "part_ended", 8, part="warm"),
        event(3, "bout_held", 9, part="warm"),  # a tap too many: nothing runs
        event(4, "part_started", 11, part="game"),
    ]
    warm = part(taps, "warm")
    assert (minute(warm.started_at), minute(warm.ended_at), warm.held_s) == (1, 8, 0)
    alone = fold(PLAN, [event(1, "minute_more", part="warm"), event(2, "part_started", 3, part="game")])
    assert (alone.parts[0].started_at, alone.parts[0].ended_at) == (None, None)


def test_a_part_that_was_skipped_and_then_played_after_all_was_not_skipped() -> None:
    skipped = [event(1, "part_skipped", 5, part="game")]
    assert (part(skipped).skipped, part(skipped).started_at, part(skipped).ended_at) == (True, None, None)
    played = part([*skipped, event(2, "part_started", 8, part="game")])
    assert (played.skipped, minute(played.started_at)) == (False, 8)


def test_a_part_that_has_ended_already_ends_no_later_for_being_skipped() -> None:
    ran = [event(1, "part_started", 2, part="game"), event(2, "part_ended", 10, part="game")]
    skipped = part([*ran, event(3, "part_skipped", 15, part="game")])
    assert (minute(skipped.ended_at), skipped.skipped) == (10, False)


def test_an_old_form_is_brought_up_from_where_it_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two steps: the first form said `words`, the second `said`, the third says `text`."""

    def second(body: dict[str, Any]) -> dict[str, Any]:
        return {"said": body["words"] + "!"}

    def third(body: dict[str, Any]) -> dict[str, Any]:
        return {"text": body["said"] + "?"}

    monkeypatch.setattr(bodies, "FORMS", {"note": (second, third)})
    for form, body, text in ((1, {"words": "a"}, "a!?"), (2, {"said": "a"}, "a?"), (3, {"text": "a"}, "a")):
        assert bodies.decoded("note", form, body) == bodies.NoteBody(text=text)
    assert bodies.decoded("note", 4, {"text": "a"}) is bodies.decoded("note", 0, {"text": "a"}) is None
    assert bodies.decoded("thunder", 2, {}) is None


def test_minutes_are_held_against_the_session_where_there_is_one() -> None:
    late = {"id": "1", "kind": "late", "at": SIX.isoformat(), "player": "ada"}
    said = [
        event_problems({**late, "minutes": minutes}, SessionLimits(session_minutes=60))
        for minutes in (120, 121)
    ]
    assert said == [(), ("minutes: the session is 60 minutes; 121 is longer than it can have lasted",)]
    for kind, body in (("left", {"player": "ada"}), ("delivered", {}), ("shortened", {})):
        raw = {"id": "1", "kind": kind, "at": SIX.isoformat(), "minutes": 121, **body}
        assert event_problems(raw, SessionLimits(session_minutes=60)) == said[1], kind
    assert (
        event_problems({**late, "minutes": 600})
        == event_problems(late, SessionLimits(session_minutes=60))
        == ()
    )


def test_another_rung_or_drill_leaves_every_stations_set_up_behind() -> None:
    set_up = [
        event(1, "fit_accepted", 1, part="game", setup={"numbers": "5v5"}),
        event(2, "fit_accepted", 2, part="game", setup={"numbers": "4v4"}, station="far", rung="two-touch"),
        event(3, "fit_accepted", 3, part="game", setup={"numbers": "3v3"}, station="near"),
    ]
    found = part(set_up)
    assert (found.setup, found.variation) == ({"numbers": "5v5"}, "two-touch")
    assert found.setups == {"far": {"numbers": "4v4"}, "near": {"numbers": "3v3"}}
    for kind, body in (
        ("harder", {"to": "one-touch"}),
        ("easier", {"to": ""}),
        ("part_swapped", {"drill": "d", "revision": 2}),
    ):
        left = part([*set_up, event(4, kind, 4, part="game", **body)])
        assert (left.setup, left.setups) == (None, {}), kind
        assert left.variation == body.get("to", "")


def test_minutes_and_rounds_add_up() -> None:
    taps = [
        event(1, "minute_more", 1, part="game"),
        event(2, "minute_more", 2, part="game", minutes=3),
        event(3, "bout_dropped", 3, part="game"),
        event(4, "bout_dropped", 4, part="game", bouts=2),
    ]
    assert (part(taps).extra_minutes, part(taps).dropped_bouts) == (4, 3)


def test_so_far_is_from_the_planned_start_to_the_last_end() -> None:
    taps = [
        event(1, "part_started", 4, part="warm"),
        event(2, "next_part", 15, part="game"),
        event(3, "part_ended", 50, part="game"),
    ]
    assert fold(PLAN, taps).minutes_delivered == 50
    assert fold(UNPLANNED, taps).minutes_delivered == 46  # nobody planned a start: the first tap
    assert fold(PLAN, taps[:1]).minutes_delivered == 0
    assert fold(PLAN, [event(1, "part_started", -9, part="warm"), event(2, "part_ended", -2, part="warm")]).minutes_delivered == 0  # fmt: skip


def test_a_session_that_was_over_before_it_began_has_no_minutes_below_none() -> None:
    state = fold(PLAN, [event(1, "delivered", 5, minutes=30), event(2, "part_started", 20, part="game")])
    assert (state.parts[1].minutes, state.parts[1].ended_by_itself) == (0, True)
    assert (state.minutes_delivered, state.minutes_said) == (30, True)


def told(state: DeliveryState) -> tuple[Any, ...]:
    return state.status, state.reason, state.moved_to, state.minutes_delivered, state.minutes_said


def test_the_last_word_leaves_nothing_of_the_one_before() -> None:
    words = [
        (event(1, "cancelled", 1, reason="weather"), ("cancelled", "weather", None, 0, False)),
        (event(2, "moved", 2, to="Thursday"), ("moved", None, "Thursday", 0, False)),
        (event(3, "shortened", 3, minutes=20), ("shortened", None, None, 20, True)),
        (event(4, "delivered", 4), ("delivered", None, None, 60, False)),
        (event(5, "delivered", 5, minutes=55), ("delivered", None, None, 55, True)),
        (event(6, "as_planned", 6), ("planned", None, None, 0, False)),
    ]
    said: list[Event] = []
    for word, expected in words:
        said.append(word)
        assert told(fold(PLAN, said)) == expected


def test_of_one_id_with_two_contents_one_counts_wherever_it_came_first() -> None:
    two = [event(1, "note", 5, text="one"), event(1, "note", 5, text="two")]
    assert [note.text for note in fold(PLAN, two).notes] == ["one"]
    assert fold(
        PLAN, [*two, event(2, "note", 6, text="more"), event(2, "note", 6, text="more")]
    ).conflicts == ("e001",)


def test_only_what_was_sent_can_be_undone() -> None:
    state = fold(
        PLAN, [event(1, "thunder", 1), event(2, "undone", 2, event="e001"), event(3, "undone", 3, event="e9")]
    )
    assert (state.undone, state.thunder_at) == (("e001",), None)


def test_teams_of_a_part_stand_beside_those_of_the_evening() -> None:
    state = fold(
        PLAN,
        [
            event(1, "teams_set", 1, teams=[["ada"], ["bo"]]),
            event(2, "teams_set", 2, teams=[["ada", "bo"], ["cy"]], part="game"),
            event(3, "trialist", 3, number=2),
            event(4, "trialist", 4, number=1),
        ],
    )
    assert state.teams == {"": (("ada",), ("bo",)), "game": (("ada", "bo"), ("cy",))}
    assert (state.trialists, state.turn_out, state.playing) == ((1, 2), 2, 2)


def test_ratings_of_parts_and_players_stand_beside_one_another() -> None:
    state = fold(
        PLAN,
        [
            event(1, "effort", 1, cr10=4),
            event(2, "effort", 2, cr10=7, part="game"),
            event(3, "effort", 3, cr10=9, player="ada"),
            event(4, "effort", 4, cr10=5, part="game"),
        ],
    )
    assert (state.effort(), state.effort("game"), state.effort("warm"), len(state.ratings)) == (4, 5, None, 3)


def test_late_and_gone_by_minutes_after_the_start() -> None:
    taps = [event(1, "late", 30, player="ada", minutes=10), event(2, "left", 50, player="ada", minutes=40)]
    state = fold(PLAN, [*taps, event(3, "delivered", 60)])
    line = state.register["ada"]
    assert (minute(line.from_at), minute(line.to_at), line.state) == (10, 40, "left")
    assert minutes_present(state, "ada") == 30
    unplanned = fold(UNPLANNED, taps).register["ada"]  # no start to count from: when it was tapped
    assert (minute(unplanned.from_at), minute(unplanned.to_at)) == (30, 50)


def test_who_watched_and_comes_back_from_late_watches_on() -> None:
    state = fold(PLAN, [event(1, "watching", 5, player="ada"), event(2, "late", 9, player="ada")])
    line = state.register["ada"]
    assert (line.state, line.taking, [spell.taking_part for spell in line.spells]) == (
        "late",
        "watching",
        [False],
    )
    again = fold(PLAN, [event(1, "late", 9, player="bo"), event(2, "watching", 12, player="bo"), event(3, "watching", 20, player="bo")])  # fmt: skip
    assert [minute(spell.ends_at) for spell in again.register["bo"].spells] == [12, None]
    assert (again.register["bo"].state, again.playing, again.turn_out) == ("late", 0, 1)
