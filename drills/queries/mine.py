"""A coach's own copies of drills as they were run: what one would say, and which there are."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from uuid import UUID

from django.db.models import F, Q
from django.utils.translation import gettext as _

from club.actor import Actor
from drills.bridge import document_of
from drills.choices import READ_BY_STAFF, DrillState
from drills.drawing.picture import laid
from drills.game.document import DrillDocument
from drills.game.document.drill import LONGEST_TITLE
from drills.game.made.mine import DrillRun, fits_written, played_so, written_down
from drills.game.variations import find
from drills.models import Drill, DrillRevision


@dataclass(frozen=True, slots=True)
class OwnCopy:
    """An own drill that was made of a run. `untouched`: still a draft that says what it said at first."""

    public_id: UUID
    title: str
    untouched: bool


def version_of(document: DrillDocument, run: DrillRun) -> DrillDocument:
    """A run as a document of its own, its plan as it was laid where the drill has one that was drawn. No query."""
    setup = None if fits_written(document, run) else run.setup
    plan = laid(played_so(document, run)).scene if _is_drawn(document, run) else None
    for_so_many = "" if setup is None else _("as it was run for {n}").format(n=setup.players_total)
    title = title_of(document, run)
    return written_down(document, run, title=title, size_for=for_so_many or _("as it was run"), scene=plan)


def _is_drawn(document: DrillDocument, run: DrillRun) -> bool:
    return document.scene is not None or played_so(document, run).document.scene is not None


def title_of(document: DrillDocument, run: DrillRun) -> str:
    """`Lantern Gates (for 15)`, `… (2 × 4v4)`, `…, Eight seconds`: cut short where it is too long."""
    setup, rung = None if fits_written(document, run) else run.setup, find(document, run.rung)
    suffix = f", {rung.title}" if rung else ""
    if setup is not None and setup.grids == 1:
        suffix += _(" (for {n})").format(n=setup.players_total)
    elif setup is not None:
        suffix += f" ({setup.numbers})"
    suffix = suffix or _(" (my rounds)")
    if len(suffix) > LONGEST_TITLE // 2:
        suffix = _(" (my version)")
    room = LONGEST_TITLE - len(suffix)
    title = document.title if len(document.title) <= room else f"{document.title[: room - 1].rstrip()}…"
    return title + suffix


def own_copies(
    actor: Actor, revision_ids: Iterable[int], *, retired: bool = False
) -> dict[tuple[int, str], OwnCopy]:
    """The copies of these revisions that this person has, by revision and by the digest of what they said first. One query."""
    mine = Drill.objects.filter(
        Q(retired_at__isnull=True) | Q(retired_at__isnull=not retired),
        owner_id=actor.user_id,
        adapted_from_revision__in=set(revision_ids),
        revisions__number=1,
    ).annotate(first_sha=F("revisions__sha256"), now_sha=F("current_revision__sha256"))
    rows = mine.order_by("pk").values_list(
        *("adapted_from_revision_id", "first_sha", "public_id", "title", "state", "now_sha")
    )
    return {
        (revision, first): OwnCopy(key, title, state == DrillState.DRAFT and first == now)
        for revision, first, key, title, state, now in rows
    }


def readable_revisions(actor: Actor, revision_ids: Iterable[int]) -> Mapping[int, DrillDocument]:
    """What these revisions say, of the drills that this person may read. One query."""
    rows = DrillRevision.objects.filter(pk__in=set(revision_ids)).select_related("drill")
    seen = Q() if actor.is_director else Q(drill__state__in=READ_BY_STAFF) | Q(drill__owner_id=actor.user_id)
    return {each.pk: document_of(each) for each in rows.filter(seen)}
