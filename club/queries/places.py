"""Pitches and zones, kit and bibs."""

from collections import Counter
from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import QuerySet, Value
from django.db.models.functions import Concat, JSONObject

from club.models import BibStock, KitStock, Pitch, Theme, Zone


def pitches() -> list[Pitch]:
    """Pitches in use, each with its zones."""
    return list(Pitch.objects.filter(retired_at__isnull=True).prefetch_related("zones"))


def zones() -> list[Zone]:
    """Every zone that can be booked, in the order of the pitches."""
    return list(Zone.objects.filter(pitch__retired_at__isnull=True).select_related("pitch"))


OF_BIBS = " bibs"  # behind the colour, as drills/game/bibs/tonight.py reads it


def kit_stock() -> dict[str, int]:
    """How many of each kind of kit the club has; bibs are told by colour (`red bibs`), and all together as `bibs`."""
    return kit_of(kit_counts())


def kit_counts() -> QuerySet[KitStock, tuple[str, int]]:
    """Kinds and counts, bibs by colour; to be read along with something else."""
    bibs = BibStock.objects.order_by().values_list(Concat("colour", Value(OF_BIBS)), "count")
    return KitStock.objects.order_by().values_list("kind", "count").union(bibs, all=True)


def kit_along() -> dict[str, ArraySubquery]:
    """The same as annotations of some other row, for `kit_read_along`."""
    kinds = KitStock.objects.order_by().values(row=JSONObject(kind="kind", count="count"))
    colour = Concat("colour", Value(OF_BIBS))
    bibs = BibStock.objects.order_by().values(row=JSONObject(kind=colour, count="count"))
    return {"kit_counted": ArraySubquery(kinds), "bibs_counted": ArraySubquery(bibs)}


def kit_read_along(row: Any) -> dict[str, int] | None:
    """The club's kit, of a row that was read with `kit_along`; None for one that was not."""
    if not hasattr(row, "kit_counted"):
        return None
    return kit_of((each["kind"], each["count"]) for each in (*row.kit_counted, *row.bibs_counted))


def kit_of(counts: Iterable[tuple[str, int]]) -> dict[str, int]:
    """The stock that `kit_counts` says."""
    stock: Counter[str] = Counter({"bibs": 0})
    for kind, count in counts:
        stock[kind] += count
        if kind.endswith(OF_BIBS):
            stock["bibs"] += count
    return dict(stock)


def kit_rows() -> list[KitStock]:
    return list(KitStock.objects.all())


def bib_rows() -> list[BibStock]:
    """Bibs by colour, in the order in which teams take them."""
    return list(BibStock.objects.all())


def themes() -> list[Theme]:
    return list(Theme.objects.all())


def theme_titles() -> QuerySet[Theme, tuple[str, str]]:
    """Keys and titles in their order; to be read along with something else."""
    return Theme.objects.values_list("key", "title")


def pitch(public_id: UUID) -> Pitch | None:
    return Pitch.objects.filter(public_id=public_id, retired_at__isnull=True).first()


def zone(public_id: UUID) -> Zone | None:
    """A zone of a pitch in use."""
    return (
        Zone.objects.select_related("pitch")
        .filter(public_id=public_id, pitch__retired_at__isnull=True)
        .first()
    )


def theme(public_id: UUID) -> Theme | None:
    return Theme.objects.filter(public_id=public_id).first()
