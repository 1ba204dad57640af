"""Write, revise and adapt drills. Each save is a new revision; a stale one is refused with all three texts."""

from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from club.actions import action, lock_row
from club.actor import Actor
from club.errors import Stale
from drills import access
from drills.actions.derive import derive
from drills.bridge import document_of, plain, project
from drills.choices import DrillState
from drills.game.document import DrillDocument, digest
from drills.game.document.drill import LONGEST_TITLE
from drills.models import Drill, DrillRevision
from drills.queries.found import document_at
from drills.validators import check_note, to_document

Content = bytes | str | dict[str, Any] | DrillDocument


@action
def create_drill(
    *,
    actor: Actor,
    document: Content,
    note: str = "",
    adapted_from: DrillRevision | None = None,
    state: DrillState = DrillState.DRAFT,
    derived_later: bool = False,
) -> Drill:
    """Keep a new drill as a draft of its writer. Raises Refused. Only a director may name another state.

    With `derived_later`, where it can be played is left to the job: the caller calls `ask_to_rederive` after the last drill.
    """
    if not access.may_write(actor) or (state != DrillState.DRAFT and not actor.is_director):
        raise PermissionDenied
    checked = to_document(document)
    drill = Drill(owner_id=actor.user_id, adapted_from_revision=adapted_from, state=state)
    drill.sent_at = timezone.now() if state == DrillState.FOR_REVIEW else None
    project(drill, checked)
    drill.save()
    _add_revision(drill, checked, actor, note)
    if not derived_later:
        derive(drill, checked)
    return drill


@action
def revise_drill(
    *, actor: Actor, public_id: UUID | str, version: int, document: Content, note: str = ""
) -> Drill:
    """Save a new revision over the version that the writer has seen. Raises Refused, or Stale with both others."""
    drill = locked(access.editable(actor, public_id))
    if not access.may_edit(actor, drill):
        raise Http404  # retired, or made the club's standard, while this waited
    checked = to_document(document)
    assert drill.current_revision is not None
    current = document_of(drill.current_revision)
    if drill.version != version:
        raise Stale(
            theirs=current, base=document_at(drill, version), version=drill.version, mine=plain(checked)
        )
    if digest(checked) == drill.current_revision.sha256:
        return drill  # nothing changed: no revision says nothing
    drill.version += 1
    project(drill, checked)
    _add_revision(drill, checked, actor, note)
    derive(drill, checked)
    return drill


@action
def adapt_drill(*, actor: Actor, public_id: UUID | str, title: str = "", note: str = "") -> Drill:
    """Make an own draft of somebody's drill; the lineage is kept.

    Without a title of its own it says in its title what it is, so that the two are told apart in a list.
    """
    source = access.readable(actor, public_id)
    assert source.current_revision is not None
    document = plain(document_of(source.current_revision))
    document["title"] = title.strip() or _adapted(source.title)
    return create_drill(
        actor=actor,
        document=document,
        note=check_note(note) or _("Adapted from “{title}”.").format(title=source.title),
        adapted_from=source.current_revision,
    )


def _adapted(title: str) -> str:
    suffix = _(", adapted")
    return title if title.endswith(suffix) else title[: LONGEST_TITLE - len(suffix)] + suffix


def locked(drill: Drill) -> Drill:
    """The drill as saved now, locked; its current revision is read when it is asked for."""
    return lock_row(Drill, drill.pk)


def _add_revision(drill: Drill, document: DrillDocument, actor: Actor, note: str) -> None:
    number = drill.current_revision.number + 1 if drill.current_revision else 1
    drill.current_revision = DrillRevision.objects.create(
        drill=drill,
        number=number,
        drill_version=drill.version,
        document=plain(document),
        schema_version=document.schema_version,
        sha256=digest(document),
        author_id=actor.user_id,
        note=check_note(note),
    )
    drill.save()
