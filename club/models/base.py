"""What every row that is seen from outside shares."""

import uuid
from datetime import date, timedelta
from typing import Any

from django.db import models


class Public(models.Model):
    """A row known outside by a UUID only; the number stays inside."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)

    class Meta:
        abstract = True


class PublicLink(Public):
    """A link that shows one thing without an account, until it expires or is taken back. Only its hash is kept."""

    secret_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        abstract = True
        ordering = ("-made_at",)

    def __str__(self) -> str:
        return f"until {self.expires_at:%Y-%m-%d}"


class Editable(Public):
    """A row that several people may edit: `version` rises with each save, so a stale form is noticed."""

    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True


class InDays(models.Model):
    """A row with a `period` of days, stored up to the day after its last."""

    period: Any

    class Meta:
        abstract = True

    @property
    def first_day(self) -> date:
        first: date = self.period.lower
        return first

    @property
    def last_day(self) -> date:
        """The last day that belongs to it."""
        after: date = self.period.upper
        return after - timedelta(days=1)
