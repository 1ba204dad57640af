"""Rungs of the library that a session may be put together from, each with what planning counts with."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import F, OuterRef, Q, QuerySet
from django.db.models.functions import JSONArray

from club.actor import Actor
from drills.bridge import MOST_PLAYERS_SEARCHED, design_from
from drills.game.design import Design
from drills.game.document import Activity
from drills.models import Drill, RoomNeeded, UseNote, Variation
from drills.queries.search import of_age, rooms_for
from drills.queries.wanted import DrillSearch

_DRILL = ("public_id", "title", "activity", "theme_keys")


@dataclass(frozen=True)
class OfferedRung:
    """One rung of a drill: the key "" is the drill as written. `footprint` is equal for rungs of equal numbers and grids."""

    drill_id: UUID
    drill_title: str
    key: str
    title: str
    rung: str
    position: int
    activity: str
    theme_keys: tuple[str, ...]
    effort: float
    minutes: int
    set_up_minutes: int
    headers: int
    footprint: str
    design: Design


def offered_rungs(
    actor: Actor, *, ages: tuple[int, int | None], tonight: DrillSearch | None = None, keepers: bool = False
) -> list[OfferedRung]:
    """Rungs of drills for these ages, kept and to be read by this person; with `tonight` those that run in its room.

    With `keepers` those of drills for keepers alone, else those of all others. One query. The index of rooms answers up to 40 players; beyond, nothing is left out.
    """
    rungs = _rungs(Drill.objects.visible_to(actor).kept().filter(of_age(*ages)), keepers=keepers)
    if tonight is not None and (tonight.players or 0) <= MOST_PLAYERS_SEARCHED:
        rungs = rungs.filter(footprint__in=rooms_for(tonight).values("footprint"))
    return [_offered(row) for row in rungs]


def rooms_for_players(footprints: Iterable[str], players: int) -> dict[str, tuple[tuple[float, float], ...]]:
    """By footprint, the smallest free rectangles for so many players, whoever keeps goal. One query."""
    rows = RoomNeeded.objects.filter(
        footprint__fingerprint__in=set(footprints), players=players, all_play=False
    )
    found: dict[str, tuple[tuple[float, float], ...]] = {}
    for footprint, longs, shorts in rows.values_list("footprint__fingerprint", "longs_cm", "shorts_cm"):
        corners = ((long / 100, short / 100) for long, short in zip(longs, shorts, strict=True))
        found[footprint] = (*found.get(footprint, ()), *corners)
    return found


def rungs_of(drill: OuterRef) -> QuerySet[Variation, Any]:
    """For an outer query that names a drill: its rungs in the document's order, each as [key, way]; "" is the drill as written."""
    rows = Variation.objects.filter(drill=drill).order_by("position")
    return rows.values(row=JSONArray("key", "rung"))


def how_it_went(drill_ids: Iterable[UUID]) -> dict[UUID, tuple[int, int]]:
    """By drill, for how many it worked of those who said how it went; the last word of each counts. One query."""
    said = UseNote.objects.filter(drill__public_id__in=set(drill_ids), worked__isnull=False)
    last = said.order_by("drill_id", "author_id", "-at", "-id").distinct("drill_id", "author_id")
    found: dict[UUID, tuple[int, int]] = {}
    for drill, worked in last.values_list("drill__public_id", "worked"):
        before = found.get(drill, (0, 0))
        found[drill] = before[0] + bool(worked), before[1] + 1
    return found


def count_of_other_ages(actor: Actor, *, ages: tuple[int, int | None]) -> int:
    """How many drills are left out because they are for other ages. One query."""
    return Drill.objects.visible_to(actor).kept().exclude(of_age(*ages)).count()


def _rungs(drills: QuerySet[Drill], *, keepers: bool) -> QuerySet[Variation]:
    return (
        Variation.objects.filter(drill__in=drills)
        .filter(Q(drill__activity=Activity.KEEPER) if keepers else ~Q(drill__activity=Activity.KEEPER))
        .exclude(facts={})
        .annotate(
            **{f"drill_{name}": F(f"drill__{name}") for name in _DRILL},
            footprint_name=F("footprint__fingerprint"),
        )
        .order_by("drill__title_sort", "drill_id", "position")
    )


def _offered(row: Variation) -> OfferedRung:
    found = row.__dict__
    return OfferedRung(
        drill_id=found["drill_public_id"],
        drill_title=found["drill_title"],
        key=row.key,
        title=row.title,
        rung=row.rung,
        position=row.position,
        activity=found["drill_activity"],
        theme_keys=tuple(found["drill_theme_keys"]),
        effort=float(row.effort),
        minutes=row.facts["minutes"],
        set_up_minutes=row.facts["set_up_minutes"],
        headers=row.facts["headers"],
        footprint=found["footprint_name"],
        design=design_from(row.facts),
    )
