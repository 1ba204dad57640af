"""A long computation: what was asked, how far it is, what came out. Pages follow this row, never the queue's tables."""

from django.db import models
from django.db.models import Q

from sessions.choices import WORKING, ComputationState
from sessions.models.base import Editable


class Computation(Editable):
    """One proposal of a session's parts. Its owner has one open at most; the same request is not worked out twice.

    `seen_at` is when the worker was last heard of; `wants_stop` asks it to end with what has been found. `used_s` is the
    worker's seconds that went into it, all tries together: whoever has used least lately has the next turn.
    """

    owner = models.ForeignKey("club.User", on_delete=models.CASCADE, related_name="computations")
    age_group = models.ForeignKey("club.AgeGroup", on_delete=models.CASCADE, related_name="computations")
    session = models.ForeignKey(
        "training.TrainingSession",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="computations",
    )
    request = models.JSONField()
    input_hash = models.CharField(max_length=64)
    state = models.CharField(max_length=10, choices=ComputationState, default=ComputationState.WAITING)
    wants_stop = models.BooleanField(default=False)
    tries = models.PositiveSmallIntegerField(default=0)
    used_s = models.FloatField(default=0)
    progress = models.JSONField(default=dict, blank=True)
    result = models.JSONField(default=dict, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at",)
        indexes = [models.Index(fields=["session", "-made_at"], name="computation_latest")]
        constraints = [
            models.UniqueConstraint(
                fields=["owner"], condition=Q(state__in=WORKING), name="one_open_computation_each"
            )
        ]

    def __str__(self) -> str:
        return f"{self.public_id} {self.state}"
