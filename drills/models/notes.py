"""What coaches noted after running a drill."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from club.models.base import Public
from drills.models.drill import Drill


class UseNote(Public):
    """A word from somebody who ran the drill: what worked, with how many. No names, no health."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="use_notes")
    author = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    players = models.PositiveSmallIntegerField(_("players"), null=True, blank=True)
    worked = models.BooleanField(_("it worked"), null=True, blank=True)
    text = models.CharField(_("what happened"), max_length=300)

    class Meta:
        ordering = ("-at", "-id")
        indexes = [models.Index(fields=["drill", "-at"], name="use_note_latest")]

    def __str__(self) -> str:
        return self.text[:40]
