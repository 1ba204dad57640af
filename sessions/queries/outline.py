"""A session with its parts in outline, for pages that play no drill."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import Exists, OuterRef
from django.db.models.functions import JSONObject

from sessions.choices import PartKind
from sessions.models import Part, Station, TrainingSession
from sessions.queries.rows import framed, place_free_from

_PART = JSONObject(id="public_id", kind="kind", title="title", drills="drill_titles", filled="filled")


def session_in_one(public_id: UUID | str, **more: Any) -> TrainingSession | None:
    """One session with its frame, its parts in outline (`outline_of`) and when its place becomes free. One query.

    For pages that play no drill; `more` is read along with it.
    """
    parts = Part.objects.filter(session=OuterRef("pk")).order_by("position")
    stations = Station.objects.filter(part=OuterRef("pk"))
    titles = stations.order_by("position").values("revision__drill__title")
    told = parts.annotate(
        drill_titles=ArraySubquery(titles), filled=Exists(stations.filter(revision__isnull=False))
    )
    found = framed().annotate(
        place_free_from=place_free_from(), part_rows=ArraySubquery(told.values(row=_PART)), **more
    )
    return found.filter(public_id=public_id).first()


@dataclass(frozen=True)
class PartOutline:
    """A part in outline: `title` as it is called, `is_filled` where a drill is played."""

    id: str
    kind: str
    title: str
    is_filled: bool

    @property
    def is_more_than_a_place(self) -> bool:
        """Whether there is something to keep: a drill, or a name of its own."""
        return self.is_filled or self.title != PartKind(self.kind).label


def outline_of(session: TrainingSession) -> list[PartOutline]:
    """The parts in outline, from rows that are at hand. No query."""
    rows = getattr(session, "part_rows", None)
    if rows is None:
        return [_outline(each) for each in session.parts.all()]
    return [
        PartOutline(
            str(each["id"]), each["kind"], titled(each["kind"], each["title"], each["drills"]), each["filled"]
        )
        for each in rows
    ]


def _outline(row: Part) -> PartOutline:
    filled = any(each.revision_id for each in row.stations.all())
    return PartOutline(str(row.public_id), row.kind, part_title(row), filled)


def part_title(part: Part) -> str:
    """What a part is called: its own title, else its drills', else its place in the order."""
    return titled(part.kind, part.title, getattr(part, "drill_titles", []))


def titled(kind: str, title: str, drills: Iterable[str | None]) -> str:
    return title or " + ".join(each for each in drills if each) or str(PartKind(kind).label)
