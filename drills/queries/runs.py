"""How often a drill has been run, and by how many coaches: one value for its page, its card and the API.

What was run is known to the app that keeps sessions, which this one may not know: that app says how to count, and gives it
here when it starts (`counted_by`).
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db.models import Subquery

from drills.models import Drill, DrillQuerySet


@dataclass(frozen=True, slots=True)
class RunCounts:
    """`times` counts parts of sessions that took place, `coaches` the different people who led them; no names.

    The rest counts what was said of them afterwards: to run it again as it was, with a change, or not again.
    """

    times: int = 0
    coaches: int = 0
    again: int = 0
    again_changed: int = 0
    not_again: int = 0


# For a query of drills, whose rows it names by `OuterRef("pk")`: `RunCounts` as a dictionary, nothing where there are none.
Counting = Callable[[], Subquery]
_counting: list[Counting] = []


def counted_by(counting: Counting) -> None:
    """Count like this from now on."""
    _counting[:] = [counting]


def with_times_run(drills: DrillQuerySet) -> DrillQuerySet:
    """These drills with how often each was run, read along with them."""
    return drills.annotate(run_row=_counting[0]()) if _counting else drills


def times_run(drill: Drill) -> RunCounts:
    """How often a drill was run that was read `with_times_run`. No query."""
    row: dict[str, Any] | None = getattr(drill, "run_row", None)
    return RunCounts(**row) if row else RunCounts()
