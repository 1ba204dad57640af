"""Photos of a board beside a drill: who sees which, and the bytes of one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.db.models.functions import JSONObject

from club import queries as club
from club.actor import Actor
from drills.choices import MOST_SKETCHES, SketchState
from drills.models import Drill, DrillSketch
from drills.photos import MB, MOST_BYTES_SENT


@dataclass(frozen=True)
class SketchRow:
    """One photo for this person; its bytes are at the address with its `sha256`."""

    public_id: UUID
    sha256: str
    width_px: int
    height_px: int
    length: int
    caption: str
    is_waiting: bool
    added_at: datetime
    added_by: str
    may_approve: bool
    may_remove: bool


@dataclass(frozen=True)
class Sketches:
    """The photos that this person sees; `free` is how many more there may be, with those that only others see counted."""

    rows: list[SketchRow]
    free: int
    most_mb: int = MOST_BYTES_SENT // MB  # of a photo that is sent

    @property
    def waits(self) -> bool:
        """Whether one of them is still to be approved."""
        return any(each.is_waiting for each in self.rows)


def sketches_allowed() -> bool:
    """Whether the club wants photos beside drills at all. One query, none where the settings were read."""
    return club.club_settings().sketches_allowed


def sketches_beside(actor: Actor, drill: Drill) -> Sketches:
    """Beside a drill that this person may read. One query; none where the club has switched them off, or where there is none."""
    if not sketches_allowed():
        return Sketches([], 0)
    if not getattr(drill, "has_sketches", True):
        return Sketches([], MOST_SKETCHES)
    found = list(drill.sketches.select_related("attachment", "added_by").defer("attachment__data"))
    rows = [_row(actor, each) for each in found if _is_seen_by(actor, each)]
    return Sketches(rows, MOST_SKETCHES - len(found))


def sketches_seen(actor: Actor, drill: Drill) -> QuerySet[DrillSketch]:
    """What is approved, and what waits where this person added it or approves it."""
    if not sketches_allowed():
        return drill.sketches.none()
    if actor.is_director:
        return drill.sketches.all()
    return drill.sketches.filter(Q(state=SketchState.APPROVED) | Q(added_by_id=actor.user_id))


def picture_of(sketch: DrillSketch) -> bytes:
    """A JPEG. One query where it was not read along."""
    return bytes(sketch.attachment.data)


def sketch_rows(actor: Actor) -> "QuerySet[Drill, dict[str, Any]]":
    """The drills beside which a photo waits for the director, as plain rows."""
    waiting = DrillSketch.objects.filter(drill=OuterRef("pk"), state=SketchState.WAITING)
    drills = Drill.objects.visible_to(actor).kept().filter(Exists(waiting))
    return drills.order_by("title_sort", "pk").values_list(
        JSONObject(public_id="public_id", title="title"), flat=True
    )


def sketches_in(rows: Sequence[Mapping[str, Any]]) -> list[tuple[UUID, str]]:
    """Id and title of each. No query."""
    return [(UUID(row["public_id"]), row["title"]) for row in rows]


def _is_mine(actor: Actor, sketch: DrillSketch) -> bool:
    return sketch.added_by_id is not None and sketch.added_by_id == actor.user_id


def _is_seen_by(actor: Actor, sketch: DrillSketch) -> bool:
    return sketch.state == SketchState.APPROVED or actor.is_director or _is_mine(actor, sketch)


def _row(actor: Actor, sketch: DrillSketch) -> SketchRow:
    picture, is_waiting = sketch.attachment, sketch.state == SketchState.WAITING
    return SketchRow(
        public_id=sketch.public_id,
        sha256=picture.sha256,
        width_px=picture.width_px,
        height_px=picture.height_px,
        length=picture.length,
        caption=sketch.caption,
        is_waiting=is_waiting,
        added_at=sketch.added_at,
        added_by=sketch.added_by.name if sketch.added_by else "",
        may_approve=is_waiting and actor.is_director,
        may_remove=actor.is_director or _is_mine(actor, sketch),
    )
