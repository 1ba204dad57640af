"""Weather that no page asks for yet, and what can't be."""

import pytest

from sessions.planning.weather import must_stop, wbgt_estimate_c


def test_flash_to_thunder_rule() -> None:
    # Stop at 30 s or less; copies of the rule differ on the 30th second, the careful reading is taken.
    assert [must_stop(seconds) for seconds in (10, 30, 30.5)] == [True, True, False]


@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "field"), [(20, 101, "humidity_pct"), (80, 5, "temperature_c")]
)
def test_impossible_weather_is_refused(temperature_c: float, humidity_pct: float, field: str) -> None:
    with pytest.raises(ValueError, match=field):
        wbgt_estimate_c(temperature_c, humidity_pct)
