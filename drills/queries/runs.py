"""How often a drill has been run, and by how many coaches: one value for its page, its card and the API.

What was run is known to the app that keeps sessions, which this one may not know: that app says how to count, and gives it
here when it starts (`counted_by`).
"""

from collections.abc import Callable, Iterable, Mapping
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


# By drills' inner ids: how hard the last sessions with each were found on the CR10 scale, latest first.
Feeling = Callable[[Iterable[int]], Mapping[int, tuple[float, ...]]]
_feeling: list[Feeling] = []


def felt_by(feeling: Feeling) -> None:
    """Ask like this from now on."""
    _feeling[:] = [feeling]


def felt(drill: Drill) -> tuple[float, ...]:
    """How hard the last sessions with a drill were found, latest first; what was said of whole sessions. One query."""
    return _feeling[0]([drill.pk]).get(drill.pk, ()) if _feeling else ()
