"""Proposals as rows: one by its id, a session with the last one, and whose turn it is."""

from dataclasses import dataclass
from datetime import timedelta
from uuid import UUID

from django.db.models import OuterRef, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sessions.choices import WORKING, ComputationState
from sessions.models import Computation, ProposalWeights, TrainingSession
from sessions.queries.outline import session_in_one

QUIET = timedelta(
    seconds=45
)  # the page says that nobody is there: later than another worker may take a row over
BUDGET_S = 20.0  # the worker's seconds that one proposal may take, reading and fitting included
LATELY = timedelta(hours=1)  # what somebody used before counts no more
MEASURED = 20  # of the last ones, to say how long one takes
ROUNDED_TO, LONGEST_IN_SECONDS = 10, 90


def proposal_by_id(public_id: UUID | str) -> Computation | None:
    """One proposal with its session and age group."""
    found = Computation.objects.select_related("session", "age_group").filter(public_id=public_id)
    return found.first()


def open_of(owner_id: int | None) -> Computation | None:
    """The one that somebody has open, with its session; there is never a second."""
    mine = Computation.objects.filter(owner_id=owner_id, state__in=WORKING)
    return mine.select_related("session").first()


def session_to_wish(public_id: UUID | str, owner_id: int | None) -> TrainingSession | None:
    """A session in outline; `last_proposal` is what this person asked for last, unless it was called off. One query."""
    asked = Computation.objects.filter(session=OuterRef("pk"), owner_id=owner_id)
    last = asked.exclude(state=ComputationState.CANCELLED).order_by("-made_at")
    return session_in_one(public_id, last_proposal=Subquery(last.values("public_id")[:1]))


@dataclass(frozen=True)
class QueuePlace:
    """Where a proposal stands: how many go first, and about how many seconds until it is worked on."""

    before: int
    wait_s: int

    @property
    def wait_words(self) -> str:
        """The wait as people say it: tens of seconds, then minutes."""
        if self.wait_s > LONGEST_IN_SECONDS:
            minutes = -(-self.wait_s // 60)
            return ngettext("about %(n)d minute", "about %(n)d minutes", minutes) % {"n": minutes}
        return _("about %(n)d seconds") % {"n": max(ROUNDED_TO, -(-self.wait_s // ROUNDED_TO) * ROUNDED_TO)}


def in_turn() -> QuerySet[Computation]:
    """Those that wait, in the order of their turns: who has used least of the worker lately goes first."""
    lately = Computation.objects.filter(owner=OuterRef("owner"), made_at__gt=timezone.now() - LATELY)
    used = lately.order_by().values("owner").annotate(used=Sum("used_s")).values("used")
    waiting = Computation.objects.filter(state=ComputationState.WAITING)
    fair = waiting.annotate(used_lately=Coalesce(Subquery(used), 0.0))
    return fair.order_by("used_lately", "made_at", "pk")


def turn_of(row: Computation) -> QueuePlace | None:
    """When it is the turn of one that waits; None for any other. Three queries."""
    if row.state != ComputationState.WAITING:
        return None
    order = list(in_turn().values_list("pk", flat=True))
    place = order.index(row.pk) if row.pk in order else 0
    each_s = usual_seconds()
    now = timezone.now()
    worked_on = Computation.objects.filter(state=ComputationState.WORKING, seen_at__gt=now - QUIET)
    left_s = sum(max(1.0, each_s - used) for used in worked_on.values_list("used_s", flat=True))
    return QueuePlace(place + worked_on.count() if left_s else place, round(left_s + place * each_s))


def usual_seconds() -> float:
    """How long one takes: what the last ones took, or the whole budget while there are none. One query."""
    last = (
        Computation.objects.filter(state=ComputationState.DONE)
        .order_by("-done_at")
        .values_list("used_s", flat=True)
    )
    took = list(last[:MEASURED])
    return min(BUDGET_S, sum(took) / len(took)) if took else BUDGET_S


def is_open(row: Computation) -> bool:
    """Whether an answer is still to come."""
    return row.state in WORKING


def is_quiet(row: Computation) -> bool:
    """Whether nobody has been heard of who works on it: the worker has died, or there is none."""
    long_ago = timezone.now() - QUIET
    if not is_open(row) or (row.seen_at or row.made_at) > long_ago:
        return False
    # One that waits its turn is not forgotten as long as somebody works on others.
    others = Computation.objects.filter(seen_at__gt=long_ago)
    return row.state == ComputationState.WORKING or not others.exists()


def proposal_weights() -> ProposalWeights:
    """The club's row; an unsaved one where everything counts as usual before somebody has said otherwise. One query."""
    return ProposalWeights.objects.filter(id=1).first() or ProposalWeights()
