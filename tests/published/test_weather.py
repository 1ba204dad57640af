"""Heat estimate, heat bands and the lightning clock, against published figures."""

from datetime import datetime, timedelta

import pytest

from sessions.planning.weather import heat_advice, heat_band, lightning_clock, wbgt_estimate_c
from tests.published.registry import guards

BOM = "Formula credited to the Australian Bureau of Meteorology (shade, strong sun assumed)"
BROWN = "Brown et al. 2025, JSAMS 28(6):491–497; Grundstein & Cooper 2018, read second-hand"
FIFPRO = "FIFPRO heat guideline: breaks from 28 to 32 °C WBGT, above 32 °C another time"
US_SOCCER = "US Soccer recognise-to-recover heat guideline, category 3, read second-hand"
LIGHTNING = "Lightning-safety guidance (30 s from flash to thunder, 30 min after the last), read second-hand; copies differ on < or ≤"
WEATHER = "sessions.planning.weather"


@guards(f"{WEATHER}:wbgt_estimate_c", source=BOM)
@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "wbgt_c"),
    [
        (20, 50, 19.863),
        (25, 50, 24.321),
        (28, 60, 28.700),
        (30, 50, 29.259),
        (30, 70, 32.583),
        (32, 50, 31.394),
        (35, 40, 32.591),
        (35, 60, 36.994),
        (40, 41, 38.456),
    ],
)
def test_quick_estimate(temperature_c: float, humidity_pct: float, wbgt_c: float) -> None:
    # Formula credited to the Australian Bureau of Meteorology.
    assert wbgt_estimate_c(temperature_c, humidity_pct) == pytest.approx(wbgt_c, abs=5e-4)


@guards(f"{WEATHER}:heat_advice", source=BROWN)
def test_estimate_errs_high_without_sun_and_says_so() -> None:
    # Brown et al. 2025, JSAMS 28(6):491-497: 40 °C and 41 % in a chamber measured 32 °C.
    advice = heat_advice(40, 41)
    assert advice.wbgt_c > 32
    assert "errs high" in advice.caution
    # Grundstein & Cooper 2018, read second-hand: at midday with little wind 3 °C and more too low.
    assert "3 °C and more too low" in advice.caution


@guards(f"{WEATHER}:BANDS", source=FIFPRO)
@pytest.mark.parametrize(
    ("wbgt_c", "name"),
    [(27.9, "no breaks needed"), (28, "breaks"), (32, "breaks"), (32.1, "reschedule")],
)
def test_fifpro_bands(wbgt_c: float, name: str) -> None:
    # FIFPRO: breaks from 28 to 32 °C, above 32 °C reschedule.
    assert heat_band(wbgt_c, "fifpro").name == name


@guards(f"{WEATHER}:BANDS", source=US_SOCCER)
@pytest.mark.parametrize(
    ("wbgt_f", "name"),
    [(82.1, "green"), (82.3, "yellow"), (87.0, "yellow"), (87.2, "orange"), (90.2, "red"), (92.1, "black")],
)
def test_us_soccer_bands(wbgt_f: float, name: str) -> None:
    # US Soccer heat guideline, category 3, half-open bands in °F.
    band = heat_band((wbgt_f - 32) * 5 / 9, "us_soccer_3")
    assert band.name == name
    assert band.play == (name != "black")


@guards(f"{WEATHER}:heat_band", source=US_SOCCER)
def test_a_band_begins_where_the_one_before_ends() -> None:
    assert heat_band((82.2 - 32) * 5 / 9, "us_soccer_3").name == "yellow"


# US Soccer heat guideline, category 3, read second-hand: breaks in every hour, and for how long there may be training.
@guards(f"{WEATHER}:BANDS", source=US_SOCCER)
@pytest.mark.parametrize(
    ("wbgt_f", "advice"),
    [
        (80, "three breaks of 3 min in every hour"),
        (85, "three breaks of 4 min in every hour"),
        (89, "2 h at most, four breaks of 4 min in every hour"),
        (91, "1 h at most, no conditioning, four breaks of 4 min in that hour"),
        (93, "no training"),
    ],
)
def test_breaks_of_each_band(wbgt_f: float, advice: str) -> None:
    assert heat_band((wbgt_f - 32) * 5 / 9, "us_soccer_3").advice == advice


@guards(f"{WEATHER}:WAIT_AFTER_THUNDER_MIN", f"{WEATHER}:lightning_clock", source=LIGHTNING)
def test_lightning_clock_restarts_with_each_thunder() -> None:
    first = datetime(2026, 6, 2, 18, 0)
    now = first + timedelta(minutes=29)
    assert lightning_clock([first], now).minutes_left == pytest.approx(1)
    again = lightning_clock([first + timedelta(minutes=20), first], now)
    assert (again.wait, again.minutes_left) == (True, pytest.approx(21))
    assert lightning_clock([first], first + timedelta(minutes=30)).wait is False
    assert lightning_clock([], now).wait is False
