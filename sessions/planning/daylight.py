"""Civil dusk against a pitch's lights. Times come from `astral`; advice, the sky of the evening comes first.

Civil dusk: the centre of the sun stands 6° below the horizon (the usual definition, as in any almanac); outdoors it is then
too dark to see a ball well (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sessions.planning.reasons import PlanningReason, reason

CIVIL_DEGREES = 6.0
FARTHEST_LATITUDE, FARTHEST_LONGITUDE = 90.0, 180.0


@dataclass(frozen=True, slots=True)
class Coordinates:
    """A place on the earth, in degrees, north and east positive, with the clock that is read there.

    Raises ValueError naming the field.
    """

    latitude: float
    longitude: float
    time_zone: str

    def __post_init__(self) -> None:
        if not -FARTHEST_LATITUDE <= self.latitude <= FARTHEST_LATITUDE:
            raise ValueError(f"latitude: from -90 to 90, not {self.latitude}")
        if not -FARTHEST_LONGITUDE <= self.longitude <= FARTHEST_LONGITUDE:
            raise ValueError(f"longitude: from -180 to 180, not {self.longitude}")


def civil_dusk(spot: Coordinates, day: date) -> datetime | None:
    """When it gets dark in the evening of a day, on the place's own clock; None where the sun does not pass 6° below.

    In a northern summer that is after midnight, and belongs to the evening before.
    """
    noon = datetime.combine(day, time(12), tzinfo=ZoneInfo(spot.time_zone))
    around = (_dusk(spot, day + timedelta(days=each)) for each in (0, 1))
    return next((each for each in around if each and noon <= each < noon + timedelta(days=1)), None)


def _dusk(spot: Coordinates, day: date) -> datetime | None:
    from astral import Observer
    from astral.sun import dusk

    zone = ZoneInfo(spot.time_zone)
    try:
        return dusk(Observer(spot.latitude, spot.longitude), date=day, tzinfo=zone, depression=CIVIL_DEGREES)
    except ValueError:
        return None


def is_dark(spot: Coordinates, moment: datetime) -> bool:
    """Whether the sun stands more than 6° below the horizon."""
    from astral import Observer
    from astral.sun import elevation

    at = elevation(Observer(spot.latitude, spot.longitude), moment, with_refraction=False)
    return bool(at < -CIVIL_DEGREES)


def dark_reasons(
    spot: Coordinates, starts: datetime, ends: datetime, place: str
) -> tuple[PlanningReason, ...]:
    """What is said of a session without lights: empty where it ends by civil dusk. `place` names the pitch."""
    dusk = civil_dusk(spot, starts.date())
    if dusk is None:
        return (reason("dark_all_day", place=place),) if is_dark(spot, ends) else ()
    if ends <= dusk:
        return ()
    clock = f"{_minute_before(dusk):%H:%M}"
    if starts >= dusk:
        return (reason("starts_after_dusk", dusk=clock, place=place),)
    minutes = math.ceil((ends - dusk) / timedelta(minutes=1))
    return (reason("ends_after_dusk", minutes=minutes, dusk=clock, place=place),)


def _minute_before(moment: datetime) -> datetime:
    """Whole minutes, rounded down: it is no lighter than is said."""
    return moment.replace(second=0, microsecond=0)
