"""Days on which nobody trains in a slot, since all or one of its pitches is closed."""

from datetime import date
from typing import Any

from django.db.models import OuterRef, Q
from django.db.models.functions import JSONObject

from club.queries.ready_made import ReadyArray
from club.reading import day
from sessions.models import ClosedDays


def closed_rows() -> ReadyArray:
    """Stretches of closed days that touch an outer slot, as plain rows: its first day, and the day after its last."""
    found = ClosedDays.objects.filter(
        Q(pitch=None) | Q(pitch__zones__slots=OuterRef("pk")), period__endswith__gt=OuterRef("first_day")
    )
    row = JSONObject(first="period__startswith", after="period__endswith")
    return ReadyArray(found.order_by("period", "pk").distinct().values(row=row))


def is_closed(slot: Any, on: date) -> bool:
    """Whether nobody trains in a slot on a day; for a slot with `closed_rows`. No query."""
    stretches = ((day(each["first"]), day(each["after"])) for each in slot.closed_rows)
    return any(first and after and first <= on < after for first, after in stretches)
