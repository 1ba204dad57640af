"""A coach's own copies of drills as they were run: what one would say, and which there are."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import F, OuterRef, Q, QuerySet
from django.db.models.functions import JSONObject
from django.utils.translation import gettext as _

from club.actor import Actor
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
    mine = _mine(actor, retired=retired).filter(adapted_from_revision__in=set(revision_ids))
    rows = mine.order_by("pk").values("adapted_from_revision_id", *_COPY, **_SHAS)
    return {(row["adapted_from_revision_id"], row["first_sha"]): _own_copy(row) for row in rows}


def readable_with_copies(actor: Actor, revision_ids: Iterable[int]) -> dict[int, dict[str, OwnCopy]]:
    """Those of these revisions whose drill this person may read, each with their own copies as `own_copies` has them. One query."""
    seen = Q() if actor.is_director else Q(drill__state__in=READ_BY_STAFF) | Q(drill__owner_id=actor.user_id)
    mine = _mine(actor).filter(adapted_from_revision=OuterRef("pk")).order_by("pk")
    row = JSONObject(**{name: name for name in _COPY}, **_SHAS)
    rows = DrillRevision.objects.filter(seen, pk__in=set(revision_ids)).values_list(
        "pk", ArraySubquery(mine.values(row=row))
    )
    return {pk: {each["first_sha"]: _own_copy(each) for each in found} for pk, found in rows}


_COPY = ("public_id", "title", "state")
_SHAS = {"first_sha": F("revisions__sha256"), "now_sha": F("current_revision__sha256")}


def _mine(actor: Actor, *, retired: bool = False) -> QuerySet[Drill]:
    return Drill.objects.filter(
        Q(retired_at__isnull=True) | Q(retired_at__isnull=not retired),
        owner_id=actor.user_id,
        revisions__number=1,
    )


def _own_copy(row: Mapping[str, Any]) -> OwnCopy:
    is_draft = row["state"] == DrillState.DRAFT
    return OwnCopy(UUID(str(row["public_id"])), row["title"], is_draft and row["first_sha"] == row["now_sha"])
