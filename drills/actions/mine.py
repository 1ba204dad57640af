"""Keep a drill as it was run as one's own, and take that back."""

from uuid import UUID

from django.http import Http404
from django.utils.translation import gettext as _

from club.actions import action, lock_row
from club.actor import Actor
from club.errors import Refused
from drills import access
from drills.actions.states import retire_drill, unretire_drill
from drills.actions.write import create_drill
from drills.bridge import document_of
from drills.game.document import digest
from drills.game.made.mine import DrillRun, is_otherwise
from drills.models import Drill, DrillRevision
from drills.queries.mine import own_copies, version_of


@action
def save_as_mine(*, actor: Actor, revision_id: int, run: DrillRun) -> Drill:
    """An own draft that says a drill as it was run; its lineage is kept. Raises Refused, Http404, PermissionDenied.

    The same run of the same revision is saved once, also by two taps at a time: the drill's row is held meanwhile. A copy
    that was taken back before is put back.
    """
    revision = DrillRevision.objects.filter(pk=revision_id).first()
    if revision is None:
        raise Http404
    source = access.readable(actor, lock_row(Drill, revision.drill_id).public_id)
    written = document_of(revision)
    if not is_otherwise(written, run):
        raise Refused(_("It was run as it is written: there is nothing to save."))
    document = version_of(written, run)
    known = own_copies(actor, [revision_id], retired=True).get((revision_id, digest(document)))
    if known is not None:
        return unretire_drill(actor=actor, public_id=known.public_id)
    note = _("As it was run, from “{title}”.").format(title=source.title)
    return create_drill(actor=actor, document=document, note=note, adapted_from=revision)


@action
def undo_save_as_mine(*, actor: Actor, revision_id: int, run: DrillRun) -> UUID | None:
    """Take the copy of a run off the shelf again while it says what it said at first; None where there is none such."""
    revision = DrillRevision.objects.filter(pk=revision_id).first()
    if revision is None:
        raise Http404
    sha256 = digest(version_of(document_of(revision), run))
    known = own_copies(actor, [revision_id]).get((revision_id, sha256))
    if known is None or not known.untouched:
        return None
    retire_drill(actor=actor, public_id=known.public_id)
    return known.public_id
