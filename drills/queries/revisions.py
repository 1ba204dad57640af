"""A drill's past as rows, and the drills that go into a file."""

from collections.abc import Iterable

from club.actor import Actor
from drills.bridge import document_of
from drills.game.document import DrillDocument
from drills.models import Drill, DrillRevision


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
