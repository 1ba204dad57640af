"""When and where: what a booking is asked for."""

from dataclasses import dataclass
from datetime import date, time


@dataclass(frozen=True)
class DayAndTimes:
    """A day and wall-clock times of the club."""

    day: date
    starts: time
    ends: time


@dataclass(frozen=True)
class ZonesAndStaff:
    """Zones and staff that a session holds. The first of the staff leads."""

    zone_ids: tuple[int, ...] = ()
    staff_ids: tuple[int, ...] = ()


NOWHERE = ZonesAndStaff()
