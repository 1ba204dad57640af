"""Orders of parts that the club keeps: for the youngest game, game, practice, game; for others another one."""

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _


class PartOrder(models.Model):
    """A named order: each part's kind and minutes, which are shares where a session is longer or shorter."""

    public_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(
        _("name"), max_length=60, unique=True, error_messages={"unique": _("This name is taken already.")}
    )
    parts = models.JSONField()  # [{"kind": …, "title": …, "minutes": …, "cr10": …}]
    kept_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, blank=True)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name
