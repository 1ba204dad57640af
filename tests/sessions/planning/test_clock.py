from datetime import datetime

import pytest

from sessions.planning.clock import timetable
from sessions.planning.kit import needed_at_once, shortages, to_carry
from sessions.planning.plan import PlannedPart, SessionPlan

SIX = datetime(2026, 3, 3, 18, 0)


def plan(*parts: PlannedPart, minutes: float = 45) -> SessionPlan:
    return SessionPlan(minutes, parts, starts_at=SIX)


def test_bouts_and_rests_on_the_clock() -> None:
    first = PlannedPart("arrival", 5, 3)
    game = PlannedPart("game", 14, 6, bouts=3, bout_s=240, rest_s=60, changeover_s=120)
    found = timetable(plan(first, game, minutes=26))
    assert [(spell.kind, spell.number, spell.clock_text) for spell in found.parts[1].spells] == [
        ("bout", 1, "18:07–18:11"),
        ("rest", 1, "18:11–18:12"),
        ("bout", 2, "18:12–18:16"),
        ("rest", 2, "18:16–18:17"),
        ("bout", 3, "18:17–18:21"),
    ]
    assert (found.clear_from, found.clear_by) == (SIX.replace(minute=21), SIX.replace(minute=26))
    assert found.reasons == found.parts[1].reasons == ()


def test_a_part_without_bout_length_is_shared_out() -> None:
    spells = timetable(plan(PlannedPart("rondo", 10, 4, bouts=3, rest_s=30))).parts[0].spells
    assert spells[0].clock_text == "18:00–18:03"
    assert spells[-1].ends_at == SIX.replace(minute=10)


@pytest.mark.parametrize(
    ("bout_s", "text"),
    [
        (300, "The rounds and rests take 3 min more than the part's 14 min."),
        (150, "4.5 min of the part's 14 min are left over after the last round."),
    ],
)
def test_minutes_that_do_not_add_up_say_by_how_much(bout_s: int, text: str) -> None:
    game = PlannedPart("game", 14, 6, bouts=3, bout_s=bout_s, rest_s=60)
    assert [reason.text for reason in timetable(plan(game)).parts[0].reasons] == [text]


def test_spare_and_missing_minutes_of_a_session() -> None:
    game = PlannedPart("game", 40, 6)
    assert timetable(plan(game, minutes=45)).reasons == ()
    assert timetable(plan(game, minutes=50)).reasons[0].text == "5 of 50 min to spare."
    assert dict(timetable(plan(game, minutes=42)).reasons[0].values)["over_min"] == 3


def test_set_up_waits_for_the_space() -> None:
    game = PlannedPart("game", 40, 6)
    free = SIX.replace(hour=17, minute=55)
    early = timetable(plan(game), set_up_minutes=5, free_from=free)
    assert (early.set_up_from, early.reasons) == (free, ())
    late = timetable(plan(game), set_up_minutes=12, free_from=free)
    assert late.set_up_from == free
    assert late.reasons[0].text == "Setting up needs 12 min; the space is free only 5 min before the start."


def test_a_plan_without_a_start_is_refused() -> None:
    with pytest.raises(ValueError, match="starts_at"):
        timetable(SessionPlan(60, ()))


def test_kit_counts_what_is_out_at_the_same_time() -> None:
    one = PlannedPart("a", 10, 4, station_kit=({"cones": 8, "balls": 2}, {"cones": 8}))
    two = PlannedPart("b", 10, 4, station_kit=({"cones": 12, "small goals": 2},))
    assert needed_at_once(one.station_kit) == {"balls": 2, "cones": 16}
    assert to_carry((one, two)) == {"balls": 2, "cones": 16, "small goals": 2}
    found = shortages((one, two), {"cones": 20, "balls": 8, "small goals": 2}, elsewhere=[{"cones": 6}])
    assert [(short.part, short.kind, short.short) for short in found] == [("a", "cones", 2)]
