"""Moving plans as videos: asked for, made by the worker, kept for some days."""

from django.db import models
from django.db.models import F, Func, Q
from django.db.models.lookups import LessThanOrEqual
from django.utils.translation import gettext_lazy as _

from club.models.base import Public
from drills.choices import VIDEO_OPEN, VideoState
from drills.drawing.video import MOST_BYTES
from drills.models.drill import Drill


class Video(Public):
    """A moving plan of a drill as an MP4. One row for the same plan: `digest` is that of the drill and its picture in motion.

    `plan` is that picture as SVG, `end_s` how long it takes; `frames` counts those done. `seen_at` is when the worker was
    last heard of. Nobody's name is in it; `asked_by` is who waits for it.
    """

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="videos")
    digest = models.CharField(
        max_length=64,
        unique=True,
        error_messages={"unique": _("Somebody else has just asked for this video. Look again.")},
    )
    plan = models.TextField()
    end_s = models.FloatField()
    asked_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    asked_at = models.DateTimeField()
    state = models.CharField(max_length=10, choices=VideoState, default=VideoState.WAITING)
    wants_stop = models.BooleanField(default=False)
    tries = models.PositiveSmallIntegerField(default=0)
    frames = models.PositiveSmallIntegerField(default=0)
    of_frames = models.PositiveSmallIntegerField()
    seen_at = models.DateTimeField(null=True, blank=True)
    file = models.BinaryField(null=True, blank=True)

    class Meta:
        ordering = ("-asked_at",)
        constraints = [
            models.CheckConstraint(
                condition=LessThanOrEqual(
                    Func(F("file"), function="octet_length", output_field=models.IntegerField()), MOST_BYTES
                ),
                name="video_within_its_bytes",
            ),
            models.CheckConstraint(
                condition=Q(state=VideoState.DONE, file__isnull=False)
                | (~Q(state=VideoState.DONE) & Q(file__isnull=True)),
                name="video_is_there_when_done",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.digest[:8]} {self.state}"

    @property
    def is_open(self) -> bool:
        """Whether the file is still to come."""
        return self.state in VIDEO_OPEN
