"""What is kept beside a drill: whether it is a favourite, notes after use, links; and a drill shown by a link."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.http import Http404

from club import queries as club
from club.actor import Actor
from drills.bridge import document_of
from drills.choices import DrillState
from drills.models import Drill, ShareLink, UseNote
from drills.queries.found import FoundDrill

MOST_NOTES = 20
MOST_ADAPTATIONS = 12


@dataclass(frozen=True)
class NoteRow:
    """A word after use; `may_drop` says whether this person may take it away."""

    public_id: UUID
    at: datetime
    author: str
    players: int | None
    worked: bool | None
    text: str
    may_drop: bool


@dataclass(frozen=True)
class Annotations:
    favourite: bool
    notes: list[NoteRow]
    links: list[club.LinkRow]
    may_share: bool
    adaptations: list[tuple[UUID, str, str]]  # what was made of it: id, title, state


def annotations(actor: Actor, drill: Drill, *, may_share: bool) -> Annotations:
    """Beside a drill's page. Two queries, three where links may be made."""
    return Annotations(
        favourite=getattr(drill, "is_favourite", False),
        notes=[_note(actor, each) for each in drill.use_notes.select_related("author")[:MOST_NOTES]],
        links=club.link_rows(drill.share_links.all()) if may_share else [],
        may_share=may_share,
        adaptations=_adaptations(actor, drill),
    )


def _adaptations(actor: Actor, drill: Drill) -> list[tuple[UUID, str, str]]:
    """The drills that were adapted from this one and that this person may read."""
    made = Drill.objects.visible_to(actor).kept().filter(adapted_from_revision__drill=drill)
    rows = made.order_by("title", "pk").values_list("public_id", "title", "state")
    return [(key, title, str(DrillState(state).label)) for key, title, state in rows[:MOST_ADAPTATIONS]]


def _note(actor: Actor, note: UseNote) -> NoteRow:
    mine = note.author_id is not None and note.author_id == actor.user_id
    author = note.author.name if note.author else ""
    may_drop = actor.is_director or mine
    return NoteRow(note.public_id, note.at, author, note.players, note.worked, note.text, may_drop)


def drill_of_link(secret: str) -> FoundDrill:
    """The drill that a link shows now. Raises Http404, which does not tell expired from unknown."""
    there = ShareLink.objects.select_related("drill__current_revision").filter(drill__retired_at=None)
    link = club.link_with(there, secret)
    if link is None or link.drill.current_revision is None:
        raise Http404
    return FoundDrill(link.drill, document_of(link.drill.current_revision))
