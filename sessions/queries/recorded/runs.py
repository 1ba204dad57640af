"""How often drills were run: parts of sessions that took place, and who led them. The library counts with it."""

from django.db.models import BooleanField, Count, F, Func, OuterRef, Q, Subquery, TextField, Value
from django.db.models.functions import Cast, JSONObject

from sessions.choices import TOOK_PLACE, StaffPart
from sessions.models import Station
from sessions.planning.fold.bodies import AgainAnswer

# Paths into the fold that a session keeps (`TrainingSession.delivery`).
ANY_BEGUN = "$.parts[*] ? (@.started_at != null)"
THIS_BEGUN = "$.parts[*] ? (@.key == $key && @.started_at != null)"
# What was said of a part in which another drill was played is said of that one.
_THIS_AGAIN = "$.parts[*] ? (@.key == $key && @.again == $answer && @.swap == null)"


def run_row() -> Subquery:
    """For each drill of a query how often it was run, in any revision and variation: see `drills.queries.runs`.

    A part counts once for each drill in it. Where the phone said when parts began, only those that did count; a session
    that was marked as done afterwards counts whole.
    """
    key = Func(Value("key"), Cast("part__public_id", TextField()), function="jsonb_build_object")
    leads = Q(part__session__staff__part=StaffPart.LEADS)
    rows = (
        Station.objects.filter(revision__drill=OuterRef("pk"), part__session__state__in=TOOK_PLACE)
        .annotate(any_begun=begun(ANY_BEGUN), this_begun=begun(THIS_BEGUN, key))
        .filter(Q(any_begun=False) | Q(this_begun=True))
        .order_by()
        .values("revision__drill")
        .annotate(
            row=JSONObject(
                times=Count("part", distinct=True),
                coaches=Count("part__session__staff__user", filter=leads, distinct=True),
                again=_answered("yes"),
                again_changed=_answered("change"),
                not_again=_answered("no"),
            )
        )
    )
    return Subquery(rows.values("row"))


def _answered(answer: AgainAnswer) -> Count:
    """Parts of which it was said so."""
    given = Func(
        Value("key"),
        Cast("part__public_id", TextField()),
        Value("answer"),
        Value(answer, output_field=TextField()),
        function="jsonb_build_object",
    )
    return Count("part", filter=Q(begun(_THIS_AGAIN, given)), distinct=True)


def begun(path: str, *given: Func) -> Func:
    """Whether the fold of a station's session has a part on this path, which may speak of what is given by name."""
    typed = Func(Value(path), template="%(expressions)s::jsonpath")
    fold = F("part__session__delivery")
    return Func(fold, typed, *given, function="jsonb_path_exists", output_field=BooleanField())
