from sessions.planning.budget import People, SessionBudget, session_reasons
from sessions.planning.headers import HeaderRule
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.supervision import AdultRule

CONES = {"cones": 12}
GAME = PlannedPart("game", 30, 7, "Game", bouts=3, rest_s=60, easier_cr10=6, station_kit=(CONES, CONES))


def by_code(plan: SessionPlan, **given) -> dict:
    budget = given.pop("budget", SessionBudget())
    return {reason.code: reason for reason in session_reasons(plan, budget, **given)}


def test_a_plan_inside_everything_has_no_reasons() -> None:
    plan = SessionPlan(35, (GAME,))
    budget = SessionBudget(210, 7, HeaderRule("FA heading guidance 2020", none=True))
    assert (
        session_reasons(plan, budget, people=People(14, AdultRule(8, 2, "CPSU"), 2), stock={"cones": 24})
        == ()
    )


def test_over_load_says_by_how_much_and_what_would_clear_it() -> None:
    found = by_code(SessionPlan(35, (GAME,)), budget=SessionBudget(190))["load_over"]
    assert found.part == "game"
    assert found.text == "210 AU expected, 20 more than the 190 AU for a session."
    assert [change.text for change in found.clears] == [
        "Run Game in its next easier variation: takes off all of that."
    ]


def test_the_squads_factor_counts() -> None:
    assert "load_over" in by_code(SessionPlan(35, (GAME,)), budget=SessionBudget(220), k=1.1)
    assert "load_over" not in by_code(SessionPlan(35, (GAME,)), budget=SessionBudget(220))


def test_effort_minutes_adults_stations_and_kit() -> None:
    plan = SessionPlan(30, (GAME,))
    found = by_code(
        plan,
        budget=SessionBudget(None, 6),
        people=People(14, AdultRule(6, 2, "CPSU"), 1),
        stock={"cones": 20, "goals": 2},
    )
    assert found["effort_over"].text == "Effort 7 of 10 is above the 6 that this age group plans at most."
    assert found["session_over_minutes"].text == (
        "Parts, changeovers and clearing take 5 min more than the 30 min there are."
    )
    assert dict(found["adults_short"].values) == {"players": 14, "needed": 3, "there": 1}
    assert found["stations_short_of_adults"].part == "game"
    assert found["kit_short"].text == "24 × cones needed at the same time, 20 there: 4 short."


def test_kit_that_is_not_on_the_list_is_said() -> None:
    assert by_code(SessionPlan(35, (GAME,)), stock={})["kit_unknown"].part == "game"
