"""A drill's past: its revisions, and what changed between two."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from drills.bridge import document_of
from drills.drawing.picture import scene_of
from drills.drawing.svg import Options, render
from drills.game.document import DrillDocument
from drills.game.sentences import say_grid
from drills.game.variations import find, played
from drills.pages.differences import Difference, differences
from drills.queries.revisions import latest_revisions, revisions_numbered

if TYPE_CHECKING:
    from drills.models import Drill


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
    revisions = latest_revisions(drill, most + 1)
    rows = []
    for place, revision in enumerate(revisions[:most]):
        before = revisions[place + 1] if place + 1 < len(revisions) else None
        changes = differences(document_of(before), document_of(revision)) if before else []
        author = revision.author.name if revision.author else ""
        rows.append(RevisionRow(revision.number, revision.at, author, revision.note, changes))
    return rows


def changes_between(drill: Drill, first: int, second: int) -> list[Difference]:
    """What changed from one revision's number to another's. Raises KeyError for a number that is not there."""
    found = revisions_numbered(drill, first, second)
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
