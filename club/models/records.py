"""Records that look after the club's data: one-time links, reads of players, answers to repeated requests."""

from django.db import models

from club.choices import LinkKind, NamesOn, Role
from club.models.base import Public


class OneTimeLink(Public):
    """A link that works once and only until it expires. Only its hash is kept."""

    kind = models.CharField(max_length=10, choices=LinkKind)
    secret_hash = models.CharField(max_length=64, unique=True)
    user = models.ForeignKey("club.User", on_delete=models.CASCADE, null=True, blank=True)
    email = models.EmailField(blank=True)
    role = models.CharField(max_length=10, blank=True)
    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.CASCADE, null=True, blank=True)
    made_by = models.ForeignKey(
        "club.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="links_made"
    )
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    @property
    def role_words(self) -> str:
        """The role that an invitation gives, as people say it."""
        return str(Role(self.role).label) if self.role else ""


class AccessLog(models.Model):
    """Who read the names of which squad's players, and when."""

    user = models.ForeignKey("club.User", on_delete=models.CASCADE)
    squad = models.ForeignKey("club.Squad", on_delete=models.CASCADE)
    page = models.CharField(max_length=40, choices=NamesOn)
    at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        ordering = ("-at", "-pk")


class IdempotencyRecord(models.Model):
    """The answer given to a request with an Idempotency-Key, kept for 24 hours."""

    user = models.ForeignKey("club.User", on_delete=models.CASCADE)
    key = models.CharField(max_length=80)
    route = models.CharField(max_length=120)
    body_hash = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField()
    answer = models.JSONField()
    headers = models.JSONField(default=dict)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "key", "route"], name="idempotency_key_once")]
