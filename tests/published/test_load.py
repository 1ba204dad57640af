"""Session load, weeks and trends against published definitions and an independent oracle (pandas)."""

import math

import pytest

from sessions.planning.load import actual, ewma, week
from sessions.planning.numbers import CR10_HIGHEST
from tests.published.registry import guards

FOSTER_1998 = "Foster 1998, MSSE 30(7):1164–1168; population SD, closed form sqrt(k/(7−k))"
WILLIAMS = "Williams et al. 2017, BJSM 51(3):209 (λ = 2/(N+1): exact form from memory, not verified)"


def equal_days(count: int, load_au: float = 300) -> list[float]:
    return [load_au] * count + [0.0] * (7 - count)


@guards("sessions.planning.load:week", source=FOSTER_1998)
@pytest.mark.parametrize(
    ("days", "monotony", "strain"),
    [
        (1, 0.4082, 122.5),
        (2, 0.6325, 379.5),
        (3, 0.8660, 779.4),
        (4, 1.1547, 1385.6),
        (5, 1.5811, 2371.7),
        (6, 2.4495, 4409.1),
    ],
)
def test_monotony_and_strain_of_equal_days(days: int, monotony: float, strain: float) -> None:
    # Foster 1998, MSSE 30(7):1164-1168, population SD; closed form sqrt(k/(7-k)).
    found = week(equal_days(days))
    assert found.monotony == pytest.approx(monotony, abs=5e-5)
    assert found.monotony == pytest.approx(math.sqrt(days / (7 - days)))
    assert found.strain == pytest.approx(strain, abs=0.05)


@guards("sessions.planning.load:week", source=f"{FOSTER_1998}; pandas")
@pytest.mark.parametrize(
    ("loads", "total", "sd", "monotony", "strain", "sample_sd"),
    [
        ([0, 375, 0, 450, 180, 0, 480], 1485, 203.853, 1.0407, 1545.4, 220.187),
        ([300, 450, 200, 400, 250, 500, 0], 2100, 158.114, 1.8974, 3984.5, 170.783),
    ],
)
def test_mixed_weeks(loads, total, sd, monotony, strain, sample_sd) -> None:
    found = week(loads)
    assert found.total == total
    assert found.sd == pytest.approx(sd, abs=5e-4)
    assert found.monotony == pytest.approx(monotony, abs=5e-5)
    assert found.strain == pytest.approx(strain, abs=0.05)
    import pandas as pd  # slow to import: only by the worker that comes here

    oracle = pd.Series(loads)
    assert found.sd == pytest.approx(oracle.std(ddof=0))
    # the sample SD is sqrt(7/6) times as large, so a reader of the other habit can convert
    assert found.sd * math.sqrt(7 / 6) == pytest.approx(oracle.std(ddof=1))
    assert found.sd * math.sqrt(7 / 6) == pytest.approx(sample_sd, abs=5e-4)


@guards("sessions.planning.load:week", source=FOSTER_1998)
@pytest.mark.parametrize("loads", [[0.0] * 7, [0.1] * 7, [300.0] * 7])
def test_monotony_of_seven_equal_days_is_undefined(loads: list[float]) -> None:
    found = week(loads)
    assert found.monotony is None
    assert found.strain is None


STEP = [100.0] * 28 + [200.0] * 7


@guards("sessions.planning.load:ewma", "sessions.planning.load:detail", source=WILLIAMS)
@pytest.mark.parametrize(
    ("days", "after_step"),
    [
        (7, [125, 143.75, 157.8125, 168.359, 176.270, 182.202, 186.652]),
        (28, [106.897, 113.317, 119.296, 124.861, 130.043, 134.868, 139.360]),
    ],
)
def test_weighted_load_after_a_step(days: int, after_step: list[float]) -> None:
    # Williams et al. 2017, BJSM 51(3):209: lambda = 2/(N+1).
    assert list(ewma(STEP, days)[28:]) == pytest.approx(after_step, abs=5e-4)


@guards("sessions.planning.load:ewma", source=f"{WILLIAMS}; pandas")
def test_weighted_load_agrees_with_pandas() -> None:
    import pandas as pd

    loads = [0, 375, 0, 450, 180, 0, 480, 300, 20, 0, 610]
    oracle = pd.Series(loads, dtype=float).ewm(span=7, adjust=False).mean()
    assert list(ewma(loads, 7)) == pytest.approx(list(oracle))


@guards(
    "sessions.planning.load:actual",
    "sessions.planning.numbers:CR10_HIGHEST",
    source="Foster et al. 2001, J Strength Cond Res 15(1):109–115: rating × minutes, 0 rest to 10 maximal",
)
def test_load_is_rating_times_minutes_on_the_cr10_scale() -> None:
    # Foster et al. 2001, J Strength Cond Res 15(1):109-115.
    assert actual(5, 75) == 375
    assert CR10_HIGHEST == 10
    with pytest.raises(ValueError, match="CR10 scale ends at 10"):
        actual(13, 75)  # a rating of the scale from 6 to 20
