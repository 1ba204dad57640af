"""Slots: the weekly time and place that a squad has."""

import pghistory
from django.db import models

from sessions.choices import Weekday
from sessions.models.base import Editable


@pghistory.track()
class Slot(Editable):
    """Weekly, from–to on the club's clock, on some zones, with its coaches, until a date. A session fills it."""

    squad = models.ForeignKey("club.Squad", on_delete=models.CASCADE, related_name="slots")
    weekday = models.PositiveSmallIntegerField(choices=Weekday)
    starts = models.TimeField()
    ends = models.TimeField()
    first_day = models.DateField()
    last_day = models.DateField()
    zones = models.ManyToManyField("club.Zone", related_name="slots")
    coaches = models.ManyToManyField("club.User", related_name="slots", blank=True)

    class Meta:
        ordering = ("weekday", "starts")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends__gt=models.F("starts")), name="slot_ends_after_start"
            ),
            models.CheckConstraint(
                condition=models.Q(last_day__gte=models.F("first_day")), name="slot_days_in_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_weekday_display()} {self.starts:%H:%M}"
