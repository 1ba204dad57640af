"""Drills whose derived rows an older engine made: searches answer from the old rows until these are rebuilt."""

from django.db.models import Exists, OuterRef, Q, QuerySet

from drills.game.rooms import ENGINE_VERSION
from drills.models import Drill, Variation


def outdated_drills(*, older_than: int = ENGINE_VERSION) -> QuerySet[Drill]:
    """Drills with a rung from before this engine, or with a revision and no rung at all, in the order of their ids."""
    rungs = Variation.objects.filter(drill=OuterRef("pk"))
    old = Exists(rungs.filter(footprint__engine_version__lt=older_than))
    return Drill.objects.filter(Q(old) | ~Exists(rungs), current_revision__isnull=False).order_by("pk")


def count_outdated_drills() -> int:
    """How many are still to be rebuilt."""
    return outdated_drills().count()
