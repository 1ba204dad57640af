"""How hard sessions with a drill were found: what was said of the whole evening, since nobody is asked drill by drill."""

from collections.abc import Iterable

from django.db.models import F, Func, TextField, Value
from django.db.models.functions import Cast

from sessions.choices import TOOK_PLACE
from sessions.models import Station
from sessions.queries.recorded.runs import ANY_BEGUN, THIS_BEGUN, begun

LAST = 3


def felt_lately(drill_pks: Iterable[int]) -> dict[int, tuple[float, ...]]:
    """By a drill's inner id what the last sessions in which it was run were rated on the CR10 scale, latest first. One query.

    What counts as run is what `run_row` counts; a session that nobody rated is left out. By the whole team's rating.
    """
    key = Func(Value("key"), Cast("part__public_id", TextField()), function="jsonb_build_object")
    rows = (
        Station.objects.filter(
            revision__drill__in=list(drill_pks),
            part__session__state__in=TOOK_PLACE,
            part__session__ratings__isnull=False,
            part__session__ratings__player__isnull=True,
        )
        .annotate(any_begun=begun(ANY_BEGUN), this_begun=begun(THIS_BEGUN, key))
        .exclude(any_begun=True, this_begun=False)
        .annotate(
            drill=F("revision__drill"), at=F("part__session__period"), cr10=F("part__session__ratings__cr10")
        )
        .order_by("-at", "part__session")
        .values_list("drill", "part__session", "at", "cr10")
        .distinct()
    )
    found: dict[int, tuple[float, ...]] = {}
    for drill, _session, _at, cr10 in rows:
        said = found.setdefault(drill, ())
        if len(said) < LAST:
            found[drill] = (*said, float(cr10))
    return found
