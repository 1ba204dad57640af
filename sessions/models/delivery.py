"""What happened: events that are only ever appended, and what is worked out from them."""

import uuid

import pgtrigger
from django.contrib.postgres.functions import RandomUUID
from django.db import models

from sessions.choices import Attendance, Kind


class DeliveryEvent(models.Model):
    """One thing that happened at the pitch. The same id with the same content is taken once."""

    session = models.ForeignKey(
        "training.TrainingSession", on_delete=models.CASCADE, related_name="delivery_events"
    )
    event_id = models.UUIDField()
    seq = models.PositiveIntegerField()
    kind = models.CharField(max_length=40)
    at = models.DateTimeField()
    skew_ms = models.IntegerField(default=0)
    form = models.PositiveSmallIntegerField(default=1)  # in which its body is written
    received_at = models.DateTimeField(auto_now_add=True)
    # An erased account keeps its row, unnamed. Nobody: the phone of a helper who had the coach's number and no account.
    actor = models.ForeignKey("club.User", on_delete=models.PROTECT, null=True, blank=True)
    device = models.CharField(max_length=40, blank=True)
    body = models.JSONField()
    sha256 = models.CharField(max_length=64)

    class Meta:
        ordering = ("session", "seq")
        constraints = [
            models.UniqueConstraint(fields=["session", "event_id"], name="event_taken_once"),
            models.UniqueConstraint(fields=["session", "seq"], name="event_seq_dense"),
        ]
        triggers = [pgtrigger.Protect(name="events_are_not_rewritten", operation=pgtrigger.Update)]


class Register(models.Model):
    """Player × session: a projection of the events. No reasons are kept."""

    session = models.ForeignKey("training.TrainingSession", on_delete=models.CASCADE, related_name="register")
    player = models.ForeignKey("club.Player", on_delete=models.CASCADE, related_name="register")
    state = models.CharField(max_length=10, choices=Attendance)
    came_at = models.DateTimeField(null=True, blank=True)
    left_at = models.DateTimeField(null=True, blank=True)
    limits = models.JSONField(default=list, blank=True)
    was_limited = models.BooleanField(default=False)
    is_guest = models.BooleanField(default=False)
    minutes = models.DecimalField(max_digits=5, decimal_places=1, default=0)
    # Of a session that is done: minutes in play, and minutes there, in the rounds of which it is known who played.
    in_play_min = models.DecimalField(max_digits=5, decimal_places=1, default=0)
    known_min = models.DecimalField(max_digits=5, decimal_places=1, default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["session", "player"], name="player_once_on_a_register")
        ]


class Rating(models.Model):
    """How hard it was, on the CR10 scale; without a player it is the coach's, for the group."""

    session = models.ForeignKey("training.TrainingSession", on_delete=models.CASCADE, related_name="ratings")
    player = models.ForeignKey("club.Player", on_delete=models.CASCADE, null=True, blank=True)
    cr10 = models.DecimalField(max_digits=3, decimal_places=1)
    scale = models.CharField(max_length=4, default="CR10")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["session", "player"], nulls_distinct=False, name="one_rating_each"
            ),
            models.CheckConstraint(
                condition=models.Q(scale="CR10", cr10__range=(0, 10)), name="rating_on_the_cr10_scale"
            ),
        ]


class LedgerEntry(models.Model):
    """Load and minutes of a squad, or of one player, on a day of the club's calendar."""

    public_id = models.UUIDField(default=uuid.uuid4, db_default=RandomUUID(), unique=True, editable=False)
    squad = models.ForeignKey("club.Squad", on_delete=models.CASCADE, related_name="ledger")
    player = models.ForeignKey("club.Player", on_delete=models.CASCADE, null=True, blank=True)
    session = models.ForeignKey(
        "training.TrainingSession", on_delete=models.CASCADE, null=True, blank=True, related_name="ledger"
    )
    day = models.DateField()
    kind = models.CharField(max_length=10, choices=Kind)
    title = models.CharField(max_length=80, blank=True)
    minutes = models.DecimalField(max_digits=6, decimal_places=1)
    load_au = models.DecimalField(max_digits=7, decimal_places=1, null=True, blank=True)
    # What the session's plan comes to as it was run, before the team's own factor: of its entry for the whole team alone.
    as_run_au = models.DecimalField(max_digits=7, decimal_places=1, null=True, blank=True)
    is_estimated = models.BooleanField(default=False)
    headers = models.PositiveSmallIntegerField(default=0)
    heading_minutes = models.DecimalField(max_digits=5, decimal_places=1, default=0)
    entered_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, blank=True)

    class Meta:
        ordering = ("day",)
        indexes = [models.Index(fields=["squad", "day"])]
        constraints = [
            models.UniqueConstraint(
                fields=["session", "squad", "player"],
                nulls_distinct=False,
                condition=models.Q(session__isnull=False),
                name="session_once_in_the_ledger",
            ),
            models.CheckConstraint(condition=models.Q(minutes__gte=0), name="ledger_minutes_positive"),
        ]
