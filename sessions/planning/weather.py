"""Heat and lightning: an estimate, a band of the guideline the club chose, and a clock. Advice, never a permit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from sessions.planning.catalogue import CATALOGUE
from sessions.planning.numbers import at_least

STOP_FLASH_TO_THUNDER_S = 30.0
WAIT_AFTER_THUNDER_MIN = 30

HeatGuideline = Literal["fifpro", "us_soccer_3"]


@dataclass(frozen=True, slots=True)
class HeatBand:
    """One caution band of WBGT in °C; `upper_c` is where the next begins (None for the last)."""

    name: str
    upper_c: float | None
    advice: str
    play: bool


@dataclass(frozen=True, slots=True)
class HeatAdvice:
    """Estimated WBGT in °C with its band, whose guideline it is and what the estimate cannot know."""

    wbgt_c: float
    band: HeatBand
    source: str
    caution: str


@dataclass(frozen=True, slots=True)
class LightningClock:
    """Where the clock stands: `resume_at` is the earliest time, `minutes_left` counts down to it."""

    resume_at: datetime | None
    minutes_left: float
    wait: bool


CAUTION = CATALOGUE["heat_caution"].text


def _advice(what: str) -> str:
    return CATALOGUE[f"heat_{what}"].text


def _fahrenheit(degrees_f: float) -> float:
    return (degrees_f - 32) * 5 / 9


# US Soccer recognise-to-recover heat guideline, category 3 (hot regions), half-open bands in °F, read in a second-hand copy: three
# breaks of 3 min in every hour, three of 4, at most 2 h with four of 4, at most 1 h with four of 4 and no conditioning, none.
# FIFPRO: breaks from 28 to 32 °C, above 32 °C reschedule.
BANDS: dict[HeatGuideline, tuple[str, tuple[HeatBand, ...]]] = {
    "fifpro": (
        "FIFPRO heat guideline",
        (
            HeatBand("no breaks needed", 28.0, _advice("water"), True),
            HeatBand("breaks", math.nextafter(32.0, 33.0), _advice("cooling_breaks"), True),
            HeatBand("reschedule", None, _advice("another_time"), False),
        ),
    ),
    "us_soccer_3": (
        "US Soccer heat guideline, category 3",
        (
            HeatBand("green", _fahrenheit(82.2), _advice("breaks_of_3"), True),
            HeatBand("yellow", _fahrenheit(87.1), _advice("breaks_of_4"), True),
            HeatBand("orange", _fahrenheit(90.1), _advice("two_hours"), True),
            HeatBand("red", _fahrenheit(92.0), _advice("one_hour"), True),
            HeatBand("black", None, _advice("no_training"), False),
        ),
    ),
}


def wbgt_estimate_c(temperature_c: float, humidity_pct: float) -> float:
    """Quick estimate of the wet-bulb globe temperature in °C from air temperature and relative humidity.

    0.567·Ta + 0.393·e + 3.94 with vapour pressure e = RH/100 × 6.105·exp(17.27·Ta/(237.7+Ta)) hPa; credited
    to the Australian Bureau of Meteorology. Assumes strong sun. ValueError outside −40…60 °C or 0…100 %.
    """
    at_least("temperature_c", temperature_c, -40)
    at_least("humidity_pct", humidity_pct, 0)
    if temperature_c > 60:
        raise ValueError(f"temperature_c: {temperature_c:g} °C is not air at a pitch")
    if humidity_pct > 100:
        raise ValueError(f"humidity_pct: must be at most 100, not {humidity_pct:g}")
    saturated_hpa = 6.105 * math.exp(17.27 * temperature_c / (237.7 + temperature_c))
    return 0.567 * temperature_c + 0.393 * humidity_pct / 100 * saturated_hpa + 3.94


def heat_band(wbgt_c: float, guideline: HeatGuideline = "fifpro") -> HeatBand:
    """The band that a WBGT in °C falls in; each band begins where the one before ends. ValueError for other guidelines."""
    at_least("wbgt_c", wbgt_c, -60)
    if guideline not in BANDS:
        raise ValueError(f"guideline: {guideline!r} is not known")
    bands = BANDS[guideline][1]
    return next(band for band in bands if band.upper_c is None or wbgt_c < band.upper_c)


def heat_advice(temperature_c: float, humidity_pct: float, guideline: HeatGuideline = "fifpro") -> HeatAdvice:
    """The estimated WBGT and its band, with the guideline's name and what the estimate can't know.

    Raises ValueError as `wbgt_estimate_c` and `heat_band` do.
    """
    wbgt_c = wbgt_estimate_c(temperature_c, humidity_pct)
    return HeatAdvice(wbgt_c, heat_band(wbgt_c, guideline), BANDS[guideline][0], CAUTION)


def must_stop(flash_to_thunder_s: float) -> bool:
    """Stop and go in when flash to thunder takes 30 s or less. Raises ValueError for a time below 0.

    Copies of the rule differ on "less than" or "at most"; the careful reading is taken.
    """
    return at_least("flash_to_thunder_s", flash_to_thunder_s, 0) <= STOP_FLASH_TO_THUNDER_S


def lightning_clock(thunder_at: Sequence[datetime], now: datetime) -> LightningClock:
    """Resume 30 min after the last thunder at the earliest; each new thunder restarts the clock.

    `thunder_at` in any order; without any there is nothing to wait for, and no time to resume.
    """
    if not thunder_at:
        return LightningClock(None, 0.0, wait=False)
    resume_at = max(thunder_at) + timedelta(minutes=WAIT_AFTER_THUNDER_MIN)
    minutes_left = max(0.0, (resume_at - now).total_seconds() / 60)
    return LightningClock(resume_at, minutes_left, wait=minutes_left > 0)
