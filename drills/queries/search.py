"""Look for drills: what is on the shelf, what was said, what runs tonight.

A list is found in two steps: which drills, in which order, from narrow indexes alone; then the few that are shown.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypeVar, overload
from uuid import UUID

from django.db.models import (
    BooleanField,
    F,
    Func,
    OuterRef,
    Q,
    QuerySet,
    SmallIntegerField,
    Subquery,
    Value,
)
from django.db.models.expressions import RawSQL
from django.db.models.functions import Cast
from django.utils import timezone

from club import queries as club
from club.actor import Actor
from drills.choices import LOOKED_AT_WITHIN, DrillState
from drills.game.fit.kit import kit_for, shortages
from drills.game.rooms import ANY_NUMBER, MISSING, class_bit, keepers_bit
from drills.game.space import LONGEST_M
from drills.models import Drill, DrillQuerySet, GridKit, RoomNeeded, RoomWithKit, Variation
from drills.queries import spelt
from drills.queries.facets import Facets, Rungs, count_facets
from drills.queries.runs import with_times_run
from drills.queries.stock import asks_for_stock
from drills.queries.wanted import DrillSearch

SHOWN = (
    *("public_id", "version", "title", "purpose", "state", "retired_at"),
    *("activity", "format", "heading", "theme_keys", "condition_kinds"),
    *("players_least", "players_most", "under_from", "under_to", "minutes", "effort"),
)
Rooms = TypeVar("Rooms", bound=QuerySet[Any])


def search(actor: Actor, wanted: DrillSearch) -> QuerySet[Drill]:
    """The drills that this person may read and that match; `runs_key` names the first rung that runs tonight."""
    rungs = rungs_for(wanted)
    return _told(_chosen(_wide(actor, wanted, rungs), wanted), rungs)


class Hits(Sequence[Drill]):
    """Matching drills, read when a slice is taken: the order from an index, then the rows of that slice alone."""

    def __init__(self, ids: QuerySet[Drill, int] | list[int], rungs: QuerySet[Variation] | None) -> None:
        self._ids = ids
        self._rungs = rungs

    def __len__(self) -> int:
        return len(self._ids) if isinstance(self._ids, list) else self._ids.count()

    @overload
    def __getitem__(self, place: int) -> Drill: ...
    @overload
    def __getitem__(self, place: slice) -> list[Drill]: ...
    def __getitem__(self, place: int | slice) -> Drill | list[Drill]:
        if isinstance(place, int):
            return self[place : place + 1][0]
        ids: list[Any] = list(self._ids[place])
        shown = _told(with_times_run(Drill.objects.filter(pk__in=ids)), self._rungs) if ids else ()
        rows = {each.pk: each for each in shown}
        return [rows[each] for each in ids if each in rows]


def hits(actor: Actor, wanted: DrillSearch) -> Hits:
    """All that match, counted exactly: by the shelf's walk where it lists them all, else one query more, and one a slice."""
    listed, facets = hits_and_facets(actor, wanted)
    if not facets.more:
        return listed
    rungs = rungs_for(wanted)
    return Hits(_ids(_chosen(_wide(actor, wanted, rungs), wanted)), rungs)


def hits_and_facets(actor: Actor, wanted: DrillSearch) -> tuple[Hits, Facets]:
    """The first of those that match, and how many there are of each activity, theme and state under the other filters.

    One query for both, and one for what stands on grids where kit is named. The themes' titles and the club's kit are read
    along, as `themes` and `stock` beside the facets.
    """
    beside = {"themes": club.theme_titles()} | (
        {"stock": club.kit_counts()} if asks_for_stock(wanted) else {}
    )
    alike, words = _alike(wanted), spelt.words_for(wanted.q)
    drills = _plain_filters(Drill.objects.visible_to(actor), actor, wanted)
    if wanted.asks_for_room and not wanted.kit:
        drills = drills.filter(alike[0].will_do(walked=True))  # a drill's own room: of any of its rungs
    rooms = {each.name: each.rooms for each in alike if each.rooms is not None}
    facets = count_facets(
        spelt.stretches(drills, words),
        wanted,
        enough=spelt.ENOUGH if words else 0,
        given=rooms | (spelt.given(words) if words else {}),
        rungs=_rungs_walked(wanted, alike),
        beside=beside,
    )
    return Hits(facets.chosen, _rungs(wanted, alike)), facets


def _ids(drills: DrillQuerySet) -> QuerySet[Drill, int]:
    return drills.values_list("pk", flat=True)


def _told(drills: QuerySet[Drill], rungs: QuerySet[Variation] | None) -> QuerySet[Drill]:
    """With what a row shows, on a page and in the API."""
    rows = drills.annotate(runs_key=_first_of(rungs)).select_related("current_revision", "owner")
    return rows.only(*SHOWN, "current_revision__sha256", "current_revision__document", "owner__name")


def _wide(actor: Actor, wanted: DrillSearch, rungs: QuerySet[Variation] | None) -> DrillQuerySet:
    """What matches before an activity, a theme or a state is chosen."""
    drills = _plain_filters(Drill.objects.visible_to(actor), actor, wanted)
    if rungs is not None and (wanted.effort_max is not None or wanted.kit):
        drills = drills.filter(pk__in=rungs.values("drill"))
    elif rungs is not None:
        drills = drills.filter(footprint__in=rooms_for(wanted).values("footprint"))  # of any of its rungs
    return spelt.with_words(drills, spelt.words_for(wanted.q))


def _chosen(drills: DrillQuerySet, wanted: DrillSearch) -> DrillQuerySet:
    if wanted.activity:
        drills = drills.filter(activity=wanted.activity)
    if wanted.theme:
        drills = drills.filter(theme_keys__contains=[wanted.theme])
    if wanted.state:
        drills = drills.filter(state=wanted.state)
    return drills


def _plain_filters(drills: DrillQuerySet, actor: Actor, wanted: DrillSearch) -> DrillQuerySet:
    drills = drills.filter(retired_at__isnull=not wanted.retired)
    if wanted.minutes is not None:
        drills = drills.filter(minutes__lte=wanted.minutes)
    if wanted.mine:
        drills = drills.filter(owner_id=actor.user_id)
    if wanted.favourite:
        drills = drills.filter(favourites__user_id=actor.user_id)
    if wanted.ages is not None:
        drills = drills.filter(of_age(wanted.ages.under_low, wanted.ages.under_high))
    return drills


def of_age(low: int, high: int | None) -> Q:
    """Drills whose ages ("under n") and the group's overlap; a drill without ages is for all, and `high` None is no limit."""
    young_enough = (
        Q(under_from__isnull=True) if high is None else Q(under_from__isnull=True) | Q(under_from__lte=high)
    )
    if high is None:
        young_enough |= Q(under_from__isnull=False)
    return young_enough & (Q(under_to__isnull=True) | Q(under_to__gte=low))


@dataclass(frozen=True)
class Alike:
    """Rungs that need the same kit, and the rooms in which so much of it is there; None where it is not asked."""

    name: str
    kits: list[int] | None
    rooms: RawSQL | None

    def will_do(self, *, walked: bool = False) -> RawSQL:
        """Asked of a drill or a rung. `walked`: of row after row, where the rooms are found once, under their name."""
        texts, params = [], list[Any]()
        if self.kits is not None:
            texts.append("kit_id = ANY(%s)")
            params.append(self.kits)
        if self.rooms is not None and walked:
            # What is true the database asks of each row as it comes, in the order of the list; it joins nothing to it.
            texts.append(f"(footprint_id IN (SELECT * FROM {self.name})) IS TRUE")
        elif self.rooms is not None:
            texts.append(f"footprint_id IN ({self.rooms.sql})")
            params += self.rooms.params
        return _condition(" AND ".join(texts) or "TRUE", params)


def _condition(sql: str, params: Sequence[Any]) -> RawSQL:
    return RawSQL(sql, params, output_field=BooleanField())


def rungs_for(wanted: DrillSearch) -> QuerySet[Variation] | None:
    """Rungs that are no harder than wanted, have their kit, and run in the room there is; None where none of it is asked."""
    return _rungs(wanted, _alike(wanted))


def _rungs(wanted: DrillSearch, alike: list[Alike], *, walked: bool = False) -> QuerySet[Variation] | None:
    if wanted.effort_max is None and not wanted.asks_for_room:
        return None
    some = [each.will_do(walked=walked) for each in alike]
    any_of = " OR ".join(f"({each.sql})" for each in some) or "FALSE"
    return _no_harder(wanted).filter(_condition(any_of, [one for each in some for one in each.params]))


def _rungs_walked(wanted: DrillSearch, alike: list[Alike]) -> Rungs | None:
    """The same as they are asked for beside a walk; None where the room of whole drills tells it all."""
    each = _rungs(wanted, alike, walked=True) if wanted.kit or wanted.effort_max is not None else None
    if each is None:
        return None
    if wanted.asks_for_room and not wanted.kit:
        return Rungs(each, [])  # few drills are left to ask by their own rooms
    return Rungs(each, [_no_harder(wanted).filter(one.will_do()) for one in alike])


def _no_harder(wanted: DrillSearch) -> QuerySet[Variation]:
    rungs = Variation.objects.all()
    return rungs if wanted.effort_max is None else rungs.filter(effort__lte=wanted.effort_max)


def _alike(wanted: DrillSearch) -> list[Alike]:
    """All rungs where no kit is named, else by which goals may be missing. One query with kit, none without."""
    if not wanted.kit:
        return [Alike("rooms", None, _footprints(rooms_for(wanted)) if wanted.asks_for_room else None)]
    there, kits = dict(wanted.kit), dict[tuple[str, ...], list[int]]()
    for pk, kit in GridKit.objects.values_list("pk", "kit"):
        enough = tuple(missing for missing in MISSING if not shortages(kit_for(kit, missing), there))
        kits.setdefault(enough, []).append(pk)
    return [
        Alike(
            f"rooms_{number}", ids, _footprints(_held(RoomWithKit.objects.filter(missing__in=enough), wanted))
        )
        for number, (enough, ids) in enumerate(kits.items())
        if enough
    ]


def _footprints(rooms: QuerySet[Any]) -> RawSQL:
    """Put into words once, since it is asked in several places."""
    return RawSQL(*rooms.order_by().values("footprint").query.sql_with_params())


def _first_of(rungs: QuerySet[Variation] | None) -> Subquery | Value:
    if rungs is None:
        return Value("")
    return Subquery(rungs.filter(drill=OuterRef("pk")).order_by("position").values("key")[:1])


def rooms_for(wanted: DrillSearch) -> QuerySet[RoomNeeded]:
    """What holds tonight's players in tonight's space; one row per footprint."""
    return _held(RoomNeeded.objects.filter(all_play=False), wanted)


def rooms_for_all(wanted: DrillSearch) -> QuerySet[RoomNeeded]:
    """The same where nobody is off."""
    return _held(RoomNeeded.objects.filter(all_play=True), wanted)


def _held(rooms: Rooms, wanted: DrillSearch) -> Rooms:
    rooms = rooms.filter(players=ANY_NUMBER if wanted.players is None else wanted.players)
    bit = F("keepers").bitand(keepers_bit(wanted.keepers))
    of_class = F("classes").bitand(class_bit(wanted.ages, wanted.adults))
    rooms = rooms.annotate(for_keepers=bit, of_class=of_class).filter(for_keepers__gt=0, of_class__gt=0)
    sides = sorted(_down_cm(each) for each in (wanted.length, wanted.width) if each is not None)
    if sides:
        long_cm = sides[1] if len(sides) == 2 else _down_cm(LONGEST_M)
        rooms = rooms.annotate(takes_cm=_width_taken(long_cm))
        rooms = rooms.filter(takes_cm__lte=sides[0])
    return rooms


def _width_taken(length_cm: int) -> Func:
    """The least width beside a free length: the shorter side at that length's place; NULL when all are longer."""
    length = Cast(Value(length_cm), SmallIntegerField())
    place = Func(length, F("longs_cm"), function="width_bucket", output_field=SmallIntegerField())
    template = "(%(expressions)s]"
    return Func(F("shorts_cm"), place, template=template, arg_joiner=")[", output_field=SmallIntegerField())


def _down_cm(metres: float) -> int:
    """Whole centimetres; a hair more, so that 24.7 m is not read as 2469 cm."""
    return math.floor(metres * 100 + 1e-6)


@dataclass(frozen=True, slots=True)
class Reviews:
    """Drills that wait for the director's word, and those that wait longer than coaches are told: id, title, whole days."""

    waiting: int = 0
    late: tuple[tuple[UUID, str, int], ...] = ()


def waiting_for_review(actor: Actor) -> Reviews:
    """What waits for the director, the longest first. One query."""
    drills = Drill.objects.visible_to(actor).kept().filter(state=DrillState.FOR_REVIEW)
    rows = list(drills.order_by("sent_at", "pk").values_list("public_id", "title", "sent_at"))
    now = timezone.now()
    late = ((key, title, (now - at).days) for key, title, at in rows if at and now - at > LOOKED_AT_WITHIN)
    return Reviews(len(rows), tuple(late))
