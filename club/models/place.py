"""Where the club trains and what it has in the bag."""

import pghistory
from django.db import models
from django.utils.translation import gettext_lazy as _

from club.choices import AtEdge, Surface
from club.limits import ADDRESS, WHERE
from club.models.base import Editable
from club.validators import fixed_goals

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
    # What is said to an ambulance, and where help hangs: empty until somebody has looked.
    address = models.CharField(_("address"), max_length=ADDRESS, blank=True)
    ambulance_gate = models.CharField(_("gate for an ambulance"), max_length=WHERE, blank=True)
    defibrillator = models.CharField(_("nearest defibrillator"), max_length=WHERE, blank=True)
    position = models.PositiveSmallIntegerField(default=0)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("position", "name")

    def __str__(self) -> str:
        return self.name


@pghistory.track()
class Zone(Editable):
    """A part of a pitch that can be booked. Zones are leaves: the whole pitch is all of its zones.

    Zones that are next to each other by position lie side by side, the first at the bottom, and meet along their length.
    `fixed_goals` are `{"edge": "left", "along": 0.5, "size": "full"}`: `along` is the goal's middle as a share of the
    edge, from the left or from the bottom.
    """

    pitch = models.ForeignKey(Pitch, on_delete=models.CASCADE, related_name="zones")
    name = models.CharField(_("name"), max_length=40)
    position = models.PositiveSmallIntegerField(default=0)
    length_m = models.DecimalField(_("length, m"), max_digits=5, decimal_places=1)
    width_m = models.DecimalField(_("width, m"), max_digits=5, decimal_places=1)
    edge_left = models.CharField(_("left end"), max_length=8, choices=AtEdge, default=AtEdge.OPEN)
    edge_right = models.CharField(_("right end"), max_length=8, choices=AtEdge, default=AtEdge.OPEN)
    edge_bottom = models.CharField(_("near side"), max_length=8, choices=AtEdge, default=AtEdge.OPEN)
    edge_top = models.CharField(_("far side"), max_length=8, choices=AtEdge, default=AtEdge.OPEN)
    fixed_goals = models.JSONField(_("fixed goals"), default=list, blank=True, validators=[fixed_goals])

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
