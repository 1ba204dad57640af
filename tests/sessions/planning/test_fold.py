from datetime import UTC, datetime, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.fold import (
    KINDS,
    Event,
    SessionLimits,
    event_problems,
    fold,
    minutes_present,
    minutes_taking_part,
    parse_event,
)
from sessions.planning.plan import PlannedPart, SessionPlan

SIX = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
PLAN = SessionPlan(60, (PlannedPart("warm", 10, 3), PlannedPart("game", 40, 6)), starts_at=SIX)


def event(n: int, kind: str, minute: float = 0, **body) -> Event:
    at = SIX + timedelta(minutes=minute)
    return parse_event({"id": f"e{n:03}", "kind": kind, "at": at.isoformat(), **body})


def test_a_whole_evening() -> None:
    state = fold(
        PLAN,
        [
            event(1, "arrived", 4, player="ada"),
            event(2, "late", 12, player="bo"),
            event(3, "guest", 2, player="cy", squad="u11"),
            event(4, "part_started", 1, part="warm"),
            event(5, "next_part", 12, part="game"),
            event(6, "bout_held", 15, part="game"),
            event(7, "bout_resumed", 16.5, part="game"),
            event(8, "minute_more", 20, part="game"),
            event(9, "harder", 22, part="game", to="two-touch"),
            event(10, "left", 40, player="ada"),
            event(11, "part_ended", 54, part="game"),
            event(12, "effort", 56, cr10=6, part="game"),
            event(13, "effort", 57, cr10=5.5),
            event(14, "note", 58, text="The third man came late."),
            event(15, "delivered", 60),
        ],
    )
    assert state.status == "delivered"
    assert state.minutes_delivered == 60
    assert [part.minutes for part in state.parts] == [11, 42]
    game = state.parts[1]
    assert (game.held_s, game.extra_minutes, game.variation) == (90, 1, "two-touch")
    assert state.turn_out == 3
    assert [minutes_present(state, name) for name in ("ada", "bo", "cy", "nobody")] == [40, 48, 60, 0]
    assert (state.effort(), state.effort("game")) == (5.5, 6)
    assert [note.text for note in state.notes] == ["The third man came late."]
    assert state.guests[0].squad == "u11"
    assert state.not_understood == state.conflicts == ()


def test_arrived_is_from_the_start_and_absent_takes_it_back() -> None:
    state = fold(PLAN, [event(1, "arrived", 4, player="ada"), event(2, "delivered", 60)])
    assert minutes_present(state, "ada") == 60
    gone = fold(
        PLAN,
        [event(1, "arrived", 4, player="ada"), event(2, "absent", 5, player="ada"), event(3, "delivered")],
    )
    assert (gone.turn_out, minutes_present(gone, "ada")) == (0, 0)


def test_a_step_leads_back_to_the_drill_as_written_and_leaves_the_set_up_behind() -> None:
    taps = [
        event(1, "harder", 4, part="game", to="two-touch"),
        event(2, "fit_accepted", 5, part="game", setup={"numbers": "5v5"}),
        event(3, "easier", 6, part="game", to=""),
    ]
    before, after = (
        next(each for each in fold(PLAN, given).parts if each.key == "game") for given in (taps[:2], taps)
    )
    assert (before.variation, before.setup) == ("two-touch", {"numbers": "5v5"})
    assert (after.variation, after.setup) == ("", None)
    assert fold(PLAN, taps).not_understood == ()


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("harder", {"to": "two-touch"}),
        ("easier", {"to": ""}),
        ("part_swapped", {"drill": "d", "revision": 1}),
    ],
)
def test_a_step_leaves_the_set_ups_of_all_its_stations_behind_and_of_no_other_part(
    kind: str, body: dict
) -> None:
    setup = {"numbers": "5v5"}
    taps = [
        event(1, "fit_accepted", 1, part="game", setup=setup),
        event(2, "fit_accepted", 2, part="game", station="second", setup=setup),
        event(3, "fit_accepted", 3, part="warm", station="other", setup=setup),
        event(4, kind, 4, part="game", **body),
        event(5, "fit_accepted", 5, part="game", station="third", setup=setup),
    ]
    warm, game = fold(PLAN, taps).parts
    assert (warm.setups, game.setup, game.setups) == ({"other": setup}, None, {"third": setup})


def test_a_wrong_left_is_taken_back() -> None:
    taps = [event(1, "late", 10, player="ada"), event(2, "left", 20, player="ada"), event(3, "delivered", 60)]
    assert minutes_present(fold(PLAN, taps), "ada") == 10
    assert minutes_present(fold(PLAN, [*taps, event(4, "late", 21, player="ada", minutes=10)]), "ada") == 50
    assert minutes_present(fold(PLAN, [*taps, event(4, "arrived", 21, player="ada")]), "ada") == 60


def test_watching_is_present_but_does_not_take_part() -> None:
    taps = [
        event(1, "arrived", player="ada"),
        event(2, "watching", 25, player="ada"),
        event(3, "delivered", 60),
    ]
    state = fold(PLAN, taps)
    assert (minutes_present(state, "ada"), minutes_taking_part(state, "ada")) == (60, 25)
    back = fold(PLAN, [*taps, event(4, "limited", 45, player="ada")])
    assert (back.register["ada"].taking, minutes_taking_part(back, "ada")) == ("full", 40)
    whole = fold(PLAN, [event(1, "watching", 6, player="bo"), event(2, "delivered", 60)])
    assert (minutes_present(whole, "bo"), minutes_taking_part(whole, "bo")) == (60, 0)


def test_limits_are_kept_without_a_reason() -> None:
    taps = [
        event(1, "limited", player="ada", limits=["no_heading"], at_most_min=30),
        event(2, "delivered", 60),
    ]
    state = fold(PLAN, taps)
    line = state.register["ada"]
    assert (line.state, line.taking, line.limits) == ("here", "limited", ("no_heading",))
    assert minutes_taking_part(state, "ada") == 30


@pytest.mark.parametrize(
    ("last", "status", "minutes"),
    [
        (event(9, "shortened", 50, minutes=35), "shortened", 35),
        (event(9, "cancelled", 50, reason="weather"), "cancelled", 0),
        (event(9, "moved", 50, to="Thursday"), "moved", 0),
        (event(9, "delivered", 50, minutes=55), "delivered", 55),
        (event(9, "as_planned", 50), "running", 10),
    ],
)
def test_the_last_word_on_the_session_counts(last: Event, status: str, minutes: float) -> None:
    taps = [
        event(1, "part_started", part="warm"),
        event(2, "part_ended", 10, part="warm"),
        event(3, "delivered", 40),
    ]
    state = fold(PLAN, [*taps, last])
    assert (state.status, state.minutes_delivered) == (status, minutes)


def test_two_phones_start_a_part_once() -> None:
    state = fold(PLAN, [event(1, "next_part", 1, part="warm"), event(2, "next_part", 1.2, part="warm")])
    assert state.parts[0].started_at == SIX + timedelta(minutes=1)
    assert state.parts[1].started_at is None


def test_a_clock_that_runs_ahead_is_corrected() -> None:
    fast = msgspec.structs.replace(event(1, "late", 22, player="ada"), skew_ms=10 * 60_000)
    assert minutes_present(fold(PLAN, [fast, event(2, "delivered", 60)]), "ada") == 48


def test_unknown_kinds_and_parts_are_marked() -> None:
    state = fold(
        PLAN, [event(1, "weather_turned"), event(2, "part_started", part="other"), event(3, "note", txt="")]
    )
    assert (state.not_understood, state.set_aside) == (("e001", "e003"), ("e002",))
    assert state.status == "planned"


def test_one_id_with_two_contents_is_named() -> None:
    first, second = event(1, "note", text="one"), event(1, "note", text="two")
    assert fold(PLAN, [first, second]) == fold(PLAN, [second, first])
    assert fold(PLAN, [first, second]).conflicts == ("e001",)
    assert fold(PLAN, [first, first]).conflicts == ()


PLAYERS = st.sampled_from(["ada", "bo"])
PARTS = st.sampled_from(["warm", "game"])
BODIES = st.one_of(
    st.tuples(st.sampled_from(["arrived", "absent", "watching", "guest", "late", "left"]), st.fixed_dictionaries({"player": PLAYERS})),
    st.tuples(st.just("limited"), st.fixed_dictionaries({"player": PLAYERS, "limits": st.sampled_from([[], ["no_contact"]])})),
    st.tuples(
        st.sampled_from(["part_started", "next_part", "part_ended", "bout_held", "bout_resumed", "minute_more"]),
        st.fixed_dictionaries({"part": PARTS}),
    ),
    st.tuples(st.sampled_from(["easier", "harder"]), st.fixed_dictionaries({"part": PARTS, "to": st.sampled_from(["", "x", "y"])})),
    st.tuples(st.just("effort"), st.fixed_dictionaries({"cr10": st.integers(0, 10)})),
    st.tuples(st.just("note"), st.fixed_dictionaries({"text": st.sampled_from("abc")})),
    st.tuples(st.just("shortened"), st.fixed_dictionaries({"minutes": st.integers(0, 60)})),
    st.tuples(st.sampled_from(["delivered", "as_planned", "unheard_of"]), st.just({})),
)  # fmt: skip
EVENTS = st.lists(st.tuples(BODIES, st.integers(0, 6), st.sampled_from([0, 60_000])), max_size=14).map(
    lambda rows: [
        msgspec.structs.replace(event(number, kind, minute * 5, **body), skew_ms=skew)
        for number, ((kind, body), minute, skew) in enumerate(rows)
    ]
)


@settings(max_examples=80, deadline=None)
@given(EVENTS, st.randoms(use_true_random=False), st.data())
def test_order_and_duplicates_change_nothing(events: list[Event], random, data) -> None:
    state = fold(PLAN, events)
    again = events + [event for event in events if data.draw(st.booleans())]
    random.shuffle(again)
    assert fold(PLAN, again) == state
    for player in ("ada", "bo"):
        present = minutes_present(state, player)
        assert 0 <= minutes_taking_part(state, player) <= present <= max(0, state.minutes_delivered) + 1e-9


AT = "2026-03-03T18:00:00+00:00"


@pytest.mark.parametrize(
    ("raw", "problem"),
    [
        ({"id": "1", "kind": "note", "at": AT, "text": "x" * 501}, "note: too long; characters at most: 500 (field `text`)"),
        ({"id": "1", "kind": "note", "at": AT}, "note: missing: `text`"),
        ({"id": "1", "kind": "effort", "at": AT, "cr10": 11}, "effort: the CR10 scale ends at 10 (field `cr10`)"),
        ({"id": "1", "kind": "effort", "at": AT, "cr10": 12, "scale": "6-20"}, "effort: the CR10 scale ends at 10 (field `cr10`)"),
        ({"id": "1", "kind": "effort", "at": AT, "cr10": 7, "scale": "6-20"}, "effort: not one of the choices: '6-20' (field `scale`)"),
        ({"id": "1", "kind": "note", "at": "2026-03-03T18:00:00", "text": "a"}, "event: the time needs its time zone (field `at`)"),
        ({"id": "1", "kind": "note", "at": "six", "text": "a"}, "event: that is not a time (field `at`)"),
        ({"kind": "note", "at": AT}, "event: missing: `id`"),
        ({"id": "1", "kind": "part_started", "at": AT, "part": "warm", "more": 1}, "part started: not known here: `more`"),
        ({"id": "1", "kind": "cancelled", "at": AT, "reason": "tired"}, "cancelled: not one of the choices: 'tired' (field `reason`)"),
        ({"id": "1", "kind": "effort", "at": AT, "cr10": 5, "player": "ada"}, "effort: single players are not rated in this age group; rate the group"),
        ({"id": "1", "kind": "fit_accepted", "at": AT, "part": "game", "setup": {"a": "x" * 20_000}}, "event: it is too long (20032 bytes; 16384 at most)"),
    ],
)  # fmt: skip
def test_problems_are_said_in_a_coachs_words(raw: dict, problem: str) -> None:
    assert event_problems(raw) == (problem,)


def test_good_and_unknown_events_have_no_problems() -> None:
    assert event_problems({"id": "1", "kind": "note", "at": AT, "text": "Well done."}) == ()
    assert event_problems({"id": "1", "kind": "unheard_of", "at": AT, "x": [1]}) == ()
    assert (
        event_problems(
            {"id": "1", "kind": "effort", "at": AT, "cr10": 5, "player": "a"},
            told=SessionLimits(individual_ratings=True),
        )
        == ()
    )


def test_every_kind_is_folded() -> None:
    samples = {
        "player": "ada", "part": "warm", "to": "x", "setup": {}, "cr10": 4, "text": "a", "minutes": 5,
        "reason": "pitch", "event": "nothing", "drill": "d", "revision": 1, "teams": [["ada"], ["bo"]], "number": 3,
        "temperature_c": 31.5, "humidity_pct": 60, "count": 14, "answer": "yes",
    }  # fmt: skip
    for number, (kind, body) in enumerate(KINDS.items()):
        fields = {f.name: samples[f.name] for f in msgspec.structs.fields(body) if f.required}
        assert fold(PLAN, [event(number, kind, **fields)]).not_understood == (), kind
