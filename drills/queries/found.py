"""Drills that may be read, with their typed documents and their past."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Exists, OuterRef
from django.http import Http404

from club.actor import Actor
from drills.bridge import document_of, plain
from drills.game.document import DrillDocument, decode
from drills.models import Drill, DrillRevision, DrillSketch, Favourite
from drills.queries.runs import with_times_run


def readable(actor: Actor, public_id: UUID | str) -> Drill:
    """A drill that this person may read, with its revision; `is_favourite` when it is a favourite. Raises Http404."""
    drill = (
        with_times_run(Drill.objects.visible_to(actor))
        .annotate(is_favourite=Exists(Favourite.objects.filter(user_id=actor.user_id, drill=OuterRef("pk"))))
        .annotate(has_sketches=Exists(DrillSketch.objects.filter(drill=OuterRef("pk"))))
        .select_related("current_revision", "owner", "adapted_from_revision__drill")
        .filter(public_id=public_id)
        .first()
    )
    if drill is None:
        raise Http404
    return drill


@dataclass(frozen=True)
class FoundDrill:
    """A drill that may be read, with its typed document."""

    drill: Drill
    document: DrillDocument

    def has_rung(self, key: str) -> bool:
        """Whether there is such a variation; "" is the drill as written."""
        return not key or any(each.key == key for each in self.document.variations)


def document_for(actor: Actor, public_id: UUID | str) -> FoundDrill:
    """A drill and what it says now. Raises Http404."""
    drill = readable(actor, public_id)
    assert drill.current_revision is not None
    return FoundDrill(drill, document_of(drill.current_revision))


def plain_of(document: DrillDocument) -> dict[str, Any]:
    """A document as plain data."""
    return plain(document)


def typed(data: dict[str, Any]) -> DrillDocument:
    """Plain data as a document. Raises DocumentError."""
    return decode(data)


def plain_document(found: FoundDrill) -> dict[str, Any]:
    """What a drill says now, as plain data."""
    return plain(found.document)


def source_of(actor: Actor, drill: Drill) -> Drill | None:
    """The drill that this one was adapted from, when this person may read it."""
    source = drill.adapted_from_revision
    if source is None:
        return None
    return Drill.objects.visible_to(actor).filter(pk=source.drill_id).first()


def latest_revisions(drill: Drill, most: int) -> list[DrillRevision]:
    """The latest of them with their authors, newest first. One query."""
    return list(drill.revisions.select_related("author").order_by("-number")[:most])


def revisions_numbered(drill: Drill, *numbers: int) -> dict[int, DrillRevision]:
    """Those of these numbers that there are. One query."""
    return {each.number: each for each in drill.revisions.filter(number__in=numbers)}


def document_at(drill: Drill, version: int) -> DrillDocument | None:
    """What the drill said when it had this version; None when there never was one."""
    revision = drill.revisions.filter(drill_version__lte=version).order_by("-number").first()
    return document_of(revision) if revision else None


def kept_drills(actor: Actor) -> Iterable[Drill]:
    """Every drill that this person may read and that is not retired, in the order of the shelf."""
    return Drill.objects.visible_to(actor).kept().select_related("current_revision")
