"""Drills whose derived rows an older engine made, or for other match pitches than the club's rows say now: searches answer
from the old rows until these are rebuilt."""

from datetime import datetime

from django.db.models import Count, Exists, Min, OuterRef, Q, QuerySet

from drills.game.rooms import ENGINE_VERSION
from drills.models import Drill, Variation
from drills.queries.match_areas import our_match_areas


def outdated_drills(*, older_than: int = ENGINE_VERSION) -> QuerySet[Drill]:
    """Drills with a rung from before this engine or for other match pitches, or with a revision and no rung at all, in the order of their ids."""
    rungs = Variation.objects.filter(drill=OuterRef("pk"))
    other = ~Q(footprint__match_areas=our_match_areas())
    old = Exists(rungs.filter(Q(footprint__engine_version__lt=older_than) | other))
    return Drill.objects.filter(Q(old) | ~Exists(rungs), current_revision__isnull=False).order_by("pk")


def count_outdated_drills() -> int:
    """How many are still to be rebuilt."""
    return outdated_drills().count()


def _bare() -> Q:
    return Q(~Exists(Variation.objects.filter(drill=OuterRef("pk"))), current_revision__isnull=False)


def first_bare_drill() -> "QuerySet[Drill, int]":
    """Any one drill of which nothing has been derived yet."""
    return Drill.objects.filter(_bare()).order_by("pk").values_list("pk", flat=True)[:1]


def bare_drills() -> tuple[int, int, datetime | None]:
    """How many drills nothing has been derived of, how many there are, and since when the first of them waits. One query."""
    bare = _bare()
    found = Drill.objects.aggregate(
        bare=Count("pk", filter=bare), every=Count("pk"), since=Min("changed_at", filter=bare)
    )
    return found["bare"], found["every"], found["since"]
