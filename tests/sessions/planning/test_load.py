import pytest

from sessions.planning import load
from sessions.planning.account import account
from sessions.planning.plan import PlannedPart, SessionPlan


def test_a_plan_counts_parts_and_changeovers() -> None:
    plan = SessionPlan(60, (PlannedPart("a", 10, 3), PlannedPart("b", 20, 6.5, changeover_s=120)))
    found = account(plan)
    assert [part.load_au for part in found.parts] == [30, 130]
    assert found.changeovers_au == 2
    assert found.load_au == 162


def test_factor_is_the_median_of_the_last_eight_from_the_fourth_on() -> None:
    assert load.squad_factor([2.0, 2.0, 2.0]) == 1.0
    assert load.squad_factor([1.0, 1.2, 1.4, 1.6]) == pytest.approx(1.3)
    assert load.squad_factor([9.0] * 8 + [1.1] * 8) == pytest.approx(1.1)
    assert load.expected(300, 1.1) == pytest.approx(330)


def test_without_a_rating_the_expected_load_stands_in_and_is_marked() -> None:
    assert load.delivered(None, 75, 330) == load.DeliveredLoad(330, estimated=True)
    assert load.delivered(5, 60, 330) == load.DeliveredLoad(300, estimated=False)


@pytest.mark.parametrize(
    ("actual_au", "outcome"),
    [(125, "as planned"), (126, "harder than planned"), (75, "as planned"), (74, "easier than planned")],
)
def test_flagged_only_outside_a_quarter(actual_au: float, outcome: str) -> None:
    assert load.against_plan(actual_au, 100) == outcome


@pytest.mark.parametrize(
    ("age", "budget_au"), [(10, None), (11, 735), (12, 735), (13, 810), (15, 810), (16, 960), (35, 960)]
)
def test_default_weekly_budget(age: int, budget_au: float | None) -> None:
    # common practice, no source: 2 × 75 min × target + 10 match minutes × 6
    found = load.default_weekly_budget(under=age, sessions=2, minutes=75, match_minutes=10)
    assert found == budget_au


def test_own_figure_after_six_weeks() -> None:
    assert load.own_weekly_figure([700, 720, 680, 710, 900]) is None
    assert load.own_weekly_figure([100, 700, 720, 680, 710, 900, 705]) == pytest.approx(707.5)


@pytest.mark.parametrize(
    ("week_au", "word"), [(1000, "usual"), (1251, "heavier"), (749, "lighter"), (750, "usual")]
)
def test_the_word_for_a_week(week_au: float, word: str) -> None:
    assert load.lighter_usual_heavier(week_au, [1000, 900, 1100]) == word


def test_no_word_before_three_weeks() -> None:
    assert load.lighter_usual_heavier(1000, [1000, 1000]) is None


def test_detail_is_hidden_before_day_28() -> None:
    assert load.detail([100.0] * 27) is None
    found = load.detail([100.0] * 28)
    assert found is not None
    assert (found.short_au, found.long_au, found.week.total) == (pytest.approx(100), pytest.approx(100), 700)


def test_detail_is_of_the_last_day_and_its_week() -> None:
    """One day of 80 AU after rest, by hand: λ = 2 ÷ (days + 1), so 80 × 2/8 and 80 × 2/29."""
    found = load.detail([500.0] + [0.0] * 40 + [10.0] * 6 + [80.0])
    assert found is not None
    assert found.week.total == 140
    rested = load.detail([0.0] * 27 + [80.0])
    assert rested is not None
    assert (rested.short_au, rested.long_au) == (pytest.approx(20), pytest.approx(160 / 29))


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: load.week([1, 2, 3]), "daily_loads"),
        (lambda: load.week([-1.0] + [0.0] * 6), "daily_loads"),
        (lambda: load.week([float("nan")] + [0.0] * 6), "daily_loads"),
        (lambda: load.ewma([1.0], 0), "days"),
        (lambda: load.actual(5, -1), "minutes"),
        (lambda: load.actual(10.5, 60), "rating"),
        (lambda: PlannedPart("a", 10, 11), "cr10"),
        (lambda: SessionPlan(60, (PlannedPart("a", 1, 1), PlannedPart("a", 1, 1))), "parts"),
    ],
)
def test_impossible_input_names_its_field(call, field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}"):
        call()
