"""What people put beside a drill: kept close, a word after use, a link for somebody without an account."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from club.models.base import Public
from drills.models.drill import Drill


class KeptClose(models.Model):
    """A drill that somebody wants at hand."""

    user = models.ForeignKey("club.User", on_delete=models.CASCADE, related_name="+")
    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="kept_close")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "drill"], name="kept_close_once")]

    def __str__(self) -> str:
        return f"{self.user_id} keeps {self.drill_id}"


class AfterUse(Public):
    """A word from somebody who ran the drill: what worked, with how many. No names, no health."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="after_use")
    author = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    players = models.PositiveSmallIntegerField(_("players"), null=True, blank=True)
    worked = models.BooleanField(_("it worked"), null=True, blank=True)
    text = models.CharField(_("what happened"), max_length=300)

    class Meta:
        ordering = ("-at", "-id")
        indexes = [models.Index(fields=["drill", "-at"], name="after_use_latest")]

    def __str__(self) -> str:
        return self.text[:40]


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
