"""What the planning of sessions asks of the library: drills to pick from, and the revisions that stations pin."""

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from django.db.models import QuerySet

from club import reading
from club.actor import Actor
from drills.bridge import document_of
from drills.game.document import DrillDocument
from drills.models import Drill, DrillRevision
from drills.queries.search import search
from drills.queries.wanted import DrillSearch


@dataclass(frozen=True)
class Pick:
    """A drill that a part may use. `effort` is CR10."""

    public_id: UUID
    revision_id: int
    title: str
    activity: str
    format: str
    theme_keys: tuple[str, ...]
    state: str
    minutes: int
    effort: float
    runs_key: str  # the first rung that runs tonight; "" is the drill as written


@dataclass(frozen=True)
class StationDrill:
    """What a station plays: the pinned revision, whether the library has a newer one, and whether it is off the shelf."""

    revision_id: int
    drill_public_id: UUID
    title: str
    revision_number: int
    changed_since: bool
    retired: bool
    sha256: str
    document: DrillDocument


def pickable(actor: Actor, wanted: DrillSearch | None = None, *, most: int | None = None) -> list[Pick]:
    """Drills on the shelf that this person may use, filtered as the library is. One query."""
    drills = search(actor, wanted or DrillSearch())
    return [_pick(drill) for drill in (drills[:most] if most else drills)]


def _pick(drill: Drill) -> Pick:
    assert drill.current_revision_id is not None
    return Pick(
        public_id=drill.public_id,
        revision_id=drill.current_revision_id,
        title=drill.title,
        activity=drill.activity,
        format=drill.format,
        theme_keys=tuple(drill.theme_keys),
        state=drill.state,
        minutes=drill.minutes,
        effort=float(drill.effort),
        runs_key=getattr(drill, "runs_key", "") or "",
    )


def documents(revision_ids: Iterable[int]) -> dict[int, StationDrill]:
    """The pinned revisions by id, in one query; whoever may see the session may see what it plays."""
    revisions = DrillRevision.objects.filter(pk__in=set(revision_ids)).select_related("drill")
    return {revision.pk: station_drill(revision) for revision in revisions}


def station_drill(revision: DrillRevision) -> StationDrill:
    """What a station plays, from a revision that was read along with it and its drill. No query."""
    document = document_of(revision)
    return StationDrill(
        revision_id=revision.pk,
        drill_public_id=revision.drill.public_id,
        title=document.title,
        revision_number=revision.number,
        changed_since=revision.drill.current_revision_id != revision.pk,
        retired=revision.drill.retired_at is not None,
        sha256=revision.sha256,
        document=document,
    )


def documents_of_revisions(wanted: Iterable[tuple[str, int]]) -> dict[tuple[str, int], DrillDocument]:
    """Documents by a drill's outer id and a revision's number; what the library does not have is left out. One query."""
    return {key: each.document for key, each in station_drills(wanted).items()}


def station_drills(wanted: Iterable[tuple[str, int]]) -> dict[tuple[str, int], StationDrill]:
    """What stations would play, by a drill's outer id and a revision's number; what the library does not have is left out. One query."""
    pairs = set(wanted)
    found = DrillRevision.objects.filter(
        drill__public_id__in={each for each, _number in pairs}
    ).select_related("drill")
    keyed = {(str(each.drill.public_id), each.number): each for each in found}
    return {key: station_drill(keyed[key]) for key in pairs if key in keyed}


def has_revision(drill: str, number: int, actor: Actor) -> bool:
    """Whether the library has a drill in this revision for this person."""
    if reading.outer_id(drill) is None:
        return False
    found = Drill.objects.visible_to(actor).filter(public_id=drill, revisions__number=number)
    return found.exists()


def revision_for(public_id: UUID | str, actor: Actor) -> int | None:
    """The id of the revision that a station would pin now; None for a drill that this person may not use."""
    found = Drill.objects.visible_to(actor).kept().filter(public_id=public_id)
    return found.values_list("current_revision_id", flat=True).first()


def current_revisions(public_ids: Iterable[UUID], actor: Actor) -> dict[UUID, int]:
    """The revisions that stations would pin now, by drill; what this person may not use is left out. One query."""
    found = Drill.objects.visible_to(actor).kept().filter(public_id__in=set(public_ids))
    return {
        public_id: revision
        for public_id, revision in found.values_list("public_id", "current_revision_id")
        if revision is not None
    }


def first_drill() -> "QuerySet[Drill, int]":
    """Any one drill, on the shelf or not: nothing where the library is empty."""
    return Drill.objects.order_by("pk").values_list("pk", flat=True)[:1]


def has_drills() -> bool:
    """Whether the library has any drill, retired ones among them. One query."""
    return first_drill().exists()


def named(public_ids: Iterable[UUID]) -> dict[UUID, tuple[int, str]]:
    """Row id and title of drills by their outer ids, whoever asks and whether they are on the shelf. One query."""
    found = Drill.objects.filter(public_id__in=set(public_ids)).values_list("public_id", "pk", "title")
    return {public_id: (pk, title) for public_id, pk, title in found}


def drill_ids_of(revision_ids: Iterable[int]) -> dict[int, UUID]:
    """The drill that each revision belongs to. One query."""
    return dict(DrillRevision.objects.filter(pk__in=set(revision_ids)).values_list("pk", "drill__public_id"))
