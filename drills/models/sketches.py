"""Photos of a board or a paper beside a drill, and the bytes that they are."""

import pghistory
from django.db import models
from django.db.models import F, Func, GeneratedField, IntegerField, Q
from django.utils.translation import gettext_lazy as _

from club.models.base import Public
from drills.choices import LONGEST_CAPTION, MOST_SKETCHES, SketchState
from drills.models.drill import Drill
from drills.photos import MOST_BYTES_KEPT


class Attachment(models.Model):
    """A clean picture, saved once however often it is used; it goes with the last row that points at it.

    In the database, so that two web processes and a backup have it.
    """

    sha256 = models.CharField(
        max_length=64,
        unique=True,
        error_messages={"unique": _("Somebody else has just added this photo. Look again.")},
    )
    data = models.BinaryField()
    length = GeneratedField(
        expression=Func(F("data"), function="octet_length", output_field=IntegerField()),
        output_field=IntegerField(),
        db_persist=True,
    )
    width_px = models.PositiveSmallIntegerField()
    height_px = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(length__range=(1, MOST_BYTES_KEPT)), name="attachment_is_small"
            ),
        ]

    def __str__(self) -> str:
        return self.sha256[:12]


# Neither the words beside it nor who added it: what is removed because a name stood in it is gone from the history too.
@pghistory.track(
    pghistory.InsertEvent(),
    pghistory.UpdateEvent(),
    pghistory.DeleteEvent(),
    model_name="DrillSketchEvent",
    fields=["drill", "state"],
)
class DrillSketch(Public):
    """A photo beside a drill. Only who added it and the director see it until the director has approved it."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="sketches")
    attachment = models.ForeignKey(Attachment, on_delete=models.PROTECT, related_name="sketches")
    state = models.CharField(max_length=10, choices=SketchState, default=SketchState.WAITING)
    position = models.PositiveSmallIntegerField()
    caption = models.CharField(_("what it shows"), max_length=LONGEST_CAPTION, blank=True)
    added_by = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("drill", "position")
        constraints = [
            models.CheckConstraint(condition=Q(state__in=SketchState.values), name="sketch_state_known"),
            # With the next one: never more beside a drill, whoever saves at the same moment.
            models.CheckConstraint(condition=Q(position__lt=MOST_SKETCHES), name="sketch_place_known"),
            models.UniqueConstraint(
                fields=["drill", "position"],
                name="sketch_place_once",
                violation_error_code="photo",
                violation_error_message=_("Somebody else has just added a photo. Look again."),
            ),
            models.UniqueConstraint(
                fields=["drill", "attachment"],
                name="sketch_once",
                violation_error_code="photo",
                violation_error_message=_("This photo is beside the drill already."),
            ),
        ]

    def __str__(self) -> str:
        return self.caption or str(self.public_id)
