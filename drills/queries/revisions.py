"""A drill's past: its revisions, what changed between two, and the whole library as a file."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from club.actor import Actor
from drills.bridge import document_of, plain
from drills.drawing.picture import scene_of
from drills.drawing.svg import Options, render
from drills.game.document import DrillDocument
from drills.game.sentences import say_grid
from drills.game.variations import find, played
from drills.models import Drill
from drills.queries.differences import Difference, differences


@dataclass(frozen=True)
class RevisionRow:
    """One save."""

    number: int
    at: datetime
    author: str
    note: str
    changes: list[Difference]


def revision_rows(drill: Drill, most: int = 12) -> list[RevisionRow]:
    """The latest revisions, newest first, each with what it changed against the one before. One query."""
    revisions = list(drill.revisions.select_related("author").order_by("-number")[: most + 1])
    rows = []
    for place, revision in enumerate(revisions[:most]):
        before = revisions[place + 1] if place + 1 < len(revisions) else None
        changes = differences(document_of(before), document_of(revision)) if before else []
        author = revision.author.name if revision.author else ""
        rows.append(RevisionRow(revision.number, revision.at, author, revision.note, changes))
    return rows


def document_at(drill: Drill, version: int) -> DrillDocument | None:
    """What the drill said when it had this version; None when there never was one."""
    revision = drill.revisions.filter(drill_version__lte=version).order_by("-number").first()
    return document_of(revision) if revision else None


def changes_between(drill: Drill, first: int, second: int) -> list[Difference]:
    """What changed from one revision's number to another's. Raises KeyError for a number that is not there."""
    found = {each.number: each for each in drill.revisions.filter(number__in=[first, second])}
    return differences(document_of(found[first]), document_of(found[second]))


@dataclass(frozen=True)
class Side:
    """A rung of a drill beside another: its title and its plan."""

    key: str
    title: str
    numbers: str
    picture: SafeString


def compared(document: DrillDocument, first: str, second: str) -> tuple[list[Side], list[Difference]]:
    """Two rungs side by side; "" is the drill as written. Raises KeyError for one that is not there."""
    played_ = [played(document, key) for key in (first, second)]
    sides = [
        _side(document, key, doc, f"rung{place}-")
        for place, (key, doc) in enumerate(zip((first, second), played_, strict=True))
    ]
    return sides, [each for each in differences(*played_) if each.field != "scene"]


def _side(document: DrillDocument, key: str, doc: DrillDocument, prefix: str) -> Side:
    variation = find(document, key)
    picture = render(scene_of(document, key), options=Options(prefix=prefix, legend=False, translate=_))
    numbers = f"{doc.format} · {say_grid(doc.grids[0])} · CR10 {doc.work.effort:g}"
    return Side(key, variation.title if variation else _("as written"), numbers, mark_safe(picture))


def export_rows(actor: Actor) -> Iterator[dict[str, Any]]:
    """Every drill that this person may read and that is not retired, in the order of the shelf."""
    for drill in Drill.objects.visible_to(actor).kept().select_related("current_revision"):
        yield exported(drill)


def exported(drill: Drill) -> dict[str, Any]:
    """A drill as a row of an exchange file."""
    assert drill.current_revision is not None
    return {
        "id": str(drill.public_id),
        "state": drill.state,
        "sha256": drill.current_revision.sha256,
        "document": plain(document_of(drill.current_revision)),
    }
