"""Civil dusk: against the solar equations of NOAA, written down here anew, and against what an almanac says.

The equations are those of NOAA's Global Monitoring Laboratory, "General Solar Position Calculations" (after Meeus, Astronomical
Algorithms), from memory, not verified; they share no line with the library that is used. The definition of civil dusk (6° below
the horizon) is the usual one of almanacs.
"""

import math
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sessions.planning.daylight import Coordinates, civil_dusk, dark_reasons, is_dark

MIDLANDS = Coordinates(52.6, -1.3, "Europe/London")
WITHIN = timedelta(
    minutes=4
)  # the equations are approximations, and the sun sinks slowly in a northern summer


def noaa_elevation(spot: Coordinates, moment: datetime) -> float:
    """Degrees of the sun above the horizon, without refraction: fractional year, equation of time, hour angle."""
    utc = moment.astimezone(UTC)
    days = 366 if utc.year % 4 == 0 else 365
    hour = utc.hour + utc.minute / 60 + utc.second / 3600
    g = 2 * math.pi / days * (utc.timetuple().tm_yday - 1 + (hour - 12) / 24)
    equation_min = 229.18 * (
        0.000075 + 0.001868 * math.cos(g) - 0.032077 * math.sin(g) - 0.014615 * math.cos(2 * g) - 0.040849 * math.sin(2 * g)
    )  # fmt: skip
    declination = (
        0.006918 - 0.399912 * math.cos(g) + 0.070257 * math.sin(g) - 0.006758 * math.cos(2 * g) + 0.000907 * math.sin(2 * g)
        - 0.002697 * math.cos(3 * g) + 0.00148 * math.sin(3 * g)
    )  # fmt: skip
    solar_min = hour * 60 + equation_min + 4 * spot.longitude
    angle = math.radians(solar_min / 4 - 180)
    latitude = math.radians(spot.latitude)
    sine = math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(declination) * math.cos(
        angle
    )
    return math.degrees(math.asin(sine))


PLACES = st.builds(
    Coordinates,
    st.floats(-55, 55),
    st.floats(-10, 10),
    st.just("UTC"),
)


@settings(max_examples=150, deadline=None)
@given(PLACES, st.dates(date(2024, 1, 1), date(2032, 12, 31)))
def test_dusk_is_when_the_sun_of_other_equations_stands_6_degrees_below(spot: Coordinates, day: date) -> None:
    dusk = civil_dusk(spot, day)
    assert dusk is not None
    assert noaa_elevation(spot, dusk - WITHIN) > -6 > noaa_elevation(spot, dusk + WITHIN)


# Greenwich, 51.48° N 0.00°. Sunset and civil twilight of the solstices as almanacs print them for London, to the minute
# (values from memory, not verified): 21 June 21:21 and about 48 min of twilight, 21 December 15:53 and about 40 min.
@pytest.mark.parametrize(
    ("day", "clock"), [(date(2026, 6, 21), time(22, 9)), (date(2026, 12, 21), time(16, 33))]
)
def test_dusk_of_the_solstices_is_that_of_an_almanac(day: date, clock: time) -> None:
    dusk = civil_dusk(Coordinates(51.48, 0.0, "Europe/London"), day)
    assert dusk is not None
    printed = datetime.combine(day, clock, tzinfo=ZoneInfo("Europe/London"))
    assert abs(dusk - printed) <= timedelta(minutes=3)


@pytest.mark.parametrize(
    ("before", "after", "hour"),
    [
        (date(2026, 3, 28), date(2026, 3, 29), 1),  # the clock goes forward
        (date(2026, 10, 24), date(2026, 10, 25), -1),  # and back
    ],
)
def test_the_clock_jumps_where_it_changes_and_the_sun_does_not(before: date, after: date, hour: int) -> None:
    first, second = civil_dusk(MIDLANDS, before), civil_dusk(MIDLANDS, after)
    assert first is not None
    assert second is not None
    on_the_wall = second.replace(tzinfo=None) - first.replace(tzinfo=None) - timedelta(days=1)
    assert abs(on_the_wall - timedelta(hours=hour)) < timedelta(minutes=3)
    in_the_sky = second.astimezone(UTC) - first.astimezone(UTC) - timedelta(days=1)
    assert abs(in_the_sky) < timedelta(minutes=3)


def test_a_northern_night_belongs_to_its_evening() -> None:
    north = Coordinates(61.2, -149.9, "America/Anchorage")
    dusk = civil_dusk(north, date(2026, 5, 21))
    assert dusk is not None
    assert (dusk.date(), dusk.hour) == (date(2026, 5, 22), 0)


def test_where_the_sun_never_passes_there_is_no_dusk() -> None:
    assert civil_dusk(Coordinates(69.6, 18.9, "Europe/Oslo"), date(2026, 6, 21)) is None  # it never gets dark
    dark = Coordinates(78.2, 15.6, "Europe/Oslo")
    assert civil_dusk(dark, date(2026, 12, 21)) is None
    assert is_dark(dark, at("12:00", date(2026, 12, 21), "Europe/Oslo"))


def at(clock: str, day: date = date(2026, 11, 30), zone: str = "Europe/London") -> datetime:
    return datetime.combine(day, time.fromisoformat(clock), tzinfo=ZoneInfo(zone))


@pytest.mark.parametrize(
    ("starts", "ends", "code"),
    [
        ("15:00", "16:30", None),
        ("16:00", "17:00", "ends_after_dusk"),
        ("18:00", "19:15", "starts_after_dusk"),
    ],
)
def test_a_session_without_lights_is_told_of_dusk(starts: str, ends: str, code: str | None) -> None:
    found = dark_reasons(MIDLANDS, at(starts), at(ends), "Mill Field")
    assert [each.code for each in found] == ([code] if code else [])
    if code == "ends_after_dusk":
        assert noaa_elevation(MIDLANDS, at("16:33")) > -6 > noaa_elevation(MIDLANDS, at("16:38"))
        assert found[0].text == (
            "Ends 25 min after dusk (16:35) and Mill Field has no lights: end by 16:35, or take a pitch with lights."
        )


def test_midsummer_is_silent_and_midwinter_of_the_far_north_is_not() -> None:
    assert (
        dark_reasons(MIDLANDS, at("19:00", date(2026, 6, 21)), at("20:30", date(2026, 6, 21)), "Mill Field")
        == ()
    )
    day, zone = date(2026, 12, 21), "Europe/Oslo"
    found = dark_reasons(
        Coordinates(78.2, 15.6, zone), at("11:00", day, zone), at("12:00", day, zone), "The Cage"
    )
    assert [each.code for each in found] == ["dark_all_day"]


@pytest.mark.parametrize(("latitude", "longitude"), [(91, 0), (0, -181)])
def test_no_such_place_is_an_error_that_names_it(latitude: float, longitude: float) -> None:
    with pytest.raises(ValueError, match=r"latitude|longitude"):
        Coordinates(latitude, longitude, "UTC")
