"""Derived rows that answer "which drills run with so many players in such a space?"; `manage.py rederive` rebuilds them."""

from django.contrib.postgres.fields import ArrayField
from django.db import models


class Footprint(models.Model):
    """Derived. Numbers in a grid, shared by all rungs (and drills, for any of their rungs) that need the same."""

    # Of all that decides the rooms, the engine included.
    fingerprint = models.CharField(max_length=64, unique=True)
    engine_version = models.PositiveSmallIntegerField()

    def __str__(self) -> str:
        return self.fingerprint[:12]


class GridKit(models.Model):
    """Derived. Kit that stands on one grid whatever its numbers, by kind; shared by all rungs that need the same."""

    fingerprint = models.CharField(max_length=64, unique=True)
    kit = models.JSONField(default=dict)

    def __str__(self) -> str:
        return ", ".join(f"{count} {kind}" for kind, count in self.kit.items())


class RoomNeeded(models.Model):
    """Derived. So many players can run this wherever the free space holds one of these rectangles.

    Only the smallest rectangles are kept, in centimetres of free space, the outside players' strip included: longer
    sides rise while shorter ones fall, so the place of a free length among `longs_cm` finds the width it takes.
    `players` is 0 for "however many". `keepers` has a bit for "not said" and for each number of named keepers, `classes`
    for each class of evenings, by the group's format, its ages and adults. `all_play`: with nobody off.
    """

    footprint = models.ForeignKey(Footprint, on_delete=models.CASCADE, related_name="rooms_needed")
    players = models.PositiveSmallIntegerField()
    keepers = models.PositiveSmallIntegerField()
    classes = models.BigIntegerField()
    all_play = models.BooleanField()
    longs_cm = ArrayField(models.SmallIntegerField())
    shorts_cm = ArrayField(models.SmallIntegerField())

    class Meta:
        ordering = ("footprint", "players", "keepers")
        indexes = [
            # Answers "which footprints take so many players in such a space?" without a look at the table.
            models.Index(
                fields=["players", "all_play", "footprint"],
                include=["keepers", "classes", "longs_cm", "shorts_cm"],
                name="setup_runs",
            )
        ]

    def __str__(self) -> str:
        return f"{self.players or 'any'}: {len(self.longs_cm)} rooms"


class RoomWithKit(models.Model):
    """Derived. As `RoomNeeded`, by what has to stand on the grids: looked up on evenings when somebody says what kit there is.

    `missing` has a digit for each grid: of its keepers' goals those that nobody keeps, so that no goal is needed.
    """

    footprint = models.ForeignKey(Footprint, on_delete=models.CASCADE, related_name="rooms_with_kit")
    missing = models.CharField(max_length=6, db_collation="C")
    players = models.PositiveSmallIntegerField()
    keepers = models.PositiveSmallIntegerField()
    classes = models.BigIntegerField()
    longs_cm = ArrayField(models.SmallIntegerField())
    shorts_cm = ArrayField(models.SmallIntegerField())

    class Meta:
        ordering = ("footprint", "missing", "players", "keepers")
        indexes = [
            models.Index(
                fields=["players", "missing", "footprint"],
                include=["keepers", "classes", "longs_cm", "shorts_cm"],
                name="room_with_kit_runs",
            )
        ]

    def __str__(self) -> str:
        return f"{self.players or 'any'}: {len(self.longs_cm)} rooms of {len(self.missing)} grids"
