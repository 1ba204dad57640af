"""Where the club trains and what it has in the bag."""

import pghistory
from django.db import models
from django.utils.translation import gettext_lazy as _

from club.choices import Surface
from club.models.base import Editable

ON_THE_LIST = _("It is on the list already: type over its number.")


@pghistory.track()
class Pitch(Editable):
    name = models.CharField(
        _("name"),
        max_length=40,
        unique=True,
        error_messages={"unique": _("There is a pitch with this name already.")},
    )
    surface = models.CharField(_("surface"), max_length=12, choices=Surface, default=Surface.GRASS)
    has_lights = models.BooleanField(_("lights"), default=False)
    position = models.PositiveSmallIntegerField(default=0)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("position", "name")

    def __str__(self) -> str:
        return self.name


@pghistory.track()
class Zone(Editable):
    """A part of a pitch that can be booked. Zones are leaves: the whole pitch is all of its zones."""

    pitch = models.ForeignKey(Pitch, on_delete=models.CASCADE, related_name="zones")
    name = models.CharField(_("name"), max_length=40)
    position = models.PositiveSmallIntegerField(default=0)
    length_m = models.DecimalField(_("length, m"), max_digits=5, decimal_places=1)
    width_m = models.DecimalField(_("width, m"), max_digits=5, decimal_places=1)
    walls = models.CharField(_("walls or fences"), max_length=80, blank=True)
    fixed_goals = models.CharField(_("fixed goals, and where they stand"), max_length=80, blank=True)

    class Meta:
        ordering = ("pitch__position", "position")
        constraints = [
            models.UniqueConstraint(
                fields=["pitch", "name"],
                name="zone_name_once",
                violation_error_code="name",
                violation_error_message=_("Another part of this pitch has this name already."),
            ),
            models.CheckConstraint(
                condition=models.Q(length_m__gt=0, width_m__gt=0), name="zone_has_an_area"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.pitch.name}, {self.name}"


@pghistory.track()
class KitStock(Editable):
    """How many the club has of a kind of kit. `kind` is the word that drills use."""

    kind = models.CharField(_("kind"), max_length=40, unique=True, error_messages={"unique": ON_THE_LIST})
    count = models.PositiveSmallIntegerField(_("how many"))
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "kind")

    def __str__(self) -> str:
        return f"{self.count} {self.kind}"


@pghistory.track()
class BibStock(Editable):
    """Bibs of one colour. `colour` is one of the names that drawings know."""

    colour = models.CharField(_("colour"), max_length=20, unique=True, error_messages={"unique": ON_THE_LIST})
    count = models.PositiveSmallIntegerField(_("how many"))
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "colour")

    def __str__(self) -> str:
        return f"{self.count} {self.colour}"
