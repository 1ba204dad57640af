"""Drills that people want at hand."""

from django.db import models

from drills.models.drill import Drill


class Favourite(models.Model):
    """A drill that somebody wants at hand."""

    user = models.ForeignKey("club.User", on_delete=models.CASCADE, related_name="+")
    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="favourites")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "drill"], name="favourite_once")]

    def __str__(self) -> str:
        return f"{self.user_id} keeps {self.drill_id}"
