"""Links that show one drill without an account."""

from django.db import models

from club.models.base import Public
from drills.models.drill import Drill


class ShareLink(Public):
    """A link that shows one drill without an account, until it expires or is taken back. Only its hash is kept."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="share_links")
    secret_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at",)

    def __str__(self) -> str:
        return f"{self.drill_id} until {self.expires_at:%Y-%m-%d}"
