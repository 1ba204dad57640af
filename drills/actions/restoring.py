"""Older revisions, said again."""

from uuid import UUID

from django.http import Http404
from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from drills import access
from drills.actions.write import revise_drill
from drills.bridge import document_of
from drills.models import Drill


@action
def restore_revision(*, actor: Actor, public_id: UUID | str, version: int, number: int) -> Drill:
    """Say again what an older revision said, as a new one. Raises Http404, Refused, or Stale."""
    drill = access.editable(actor, public_id)
    revision = drill.revisions.filter(number=number).first()
    if revision is None:
        raise Http404
    return revise_drill(
        actor=actor,
        public_id=public_id,
        version=version,
        document=document_of(revision),
        note=_("Revision {number} again.").format(number=number),
    )
