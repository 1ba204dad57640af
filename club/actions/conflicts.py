"""What happens when two people write at the same moment: rows are locked alone, and the database's refusals become words.

A rule that two could break together is a constraint. Its sentence stands with it in the model: `violation_error_message`
is what is said, `violation_error_code` the input that it is said beside. For a `unique` column it is the field's own.
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import cache, wraps
from typing import Any, ParamSpec, TypeVar

import structlog
from django.apps import apps
from django.db import IntegrityError, OperationalError, connection, models, transaction
from django.utils.translation import gettext as _

from club.errors import Clash, FieldProblem
from club.models import User, Zone

Row = TypeVar("Row", bound=models.Model)
P = ParamSpec("P")
R = TypeVar("R")

log = structlog.get_logger("bibrack.conflict")
# PostgreSQL, appendix A: serialization_failure, deadlock_detected, lock_not_available.
AT_THE_SAME_MOMENT = {"40001", "40P01", "55P03"}
BELONGS_TO_NOTHING = "23503"  # foreign_key_violation
TAKEN = {"23505", "23P01"}  # unique_violation, exclusion_violation


def action(write: Callable[P, R]) -> Callable[P, R]:
    """Make a function an action: one transaction; what the database refuses is raised as Clash, in words."""

    @wraps(write)
    def done(*args: P.args, **kwargs: P.kwargs) -> R:
        with in_words(), transaction.atomic():
            return write(*args, **kwargs)

    return done


@contextmanager
def in_words() -> Iterator[None]:
    """Raise Clash where a constraint or somebody else's lock stands in the way; the transaction is inside."""
    try:
        yield
    except (IntegrityError, OperationalError) as error:
        clash = clash_of(error)
        if clash is None:
            raise
        log.info("conflict", sqlstate=_state(error), constraint=constraint_of(error))
        raise clash from error


def clash_of(error: Exception) -> Clash | None:
    """The words for an error of the database; None for one that is nobody's doing but ours."""
    state = _state(error)
    if state in AT_THE_SAME_MOMENT:
        return Clash(_("Somebody else is saving here at this moment. Try again."))
    if state == BELONGS_TO_NOTHING:
        return Clash(_("Something that this belongs to has just been removed. Look again, then save."))
    problem = sentences().get(constraint_of(error)) if state in TAKEN else None
    return None if problem is None else Clash(str(problem.text), field=problem.field)


def constraint_of(error: Exception) -> str:
    """The name of the constraint that an error of the database speaks of; empty for none."""
    return getattr(getattr(error.__cause__, "diag", None), "constraint_name", None) or ""


def _state(error: Exception) -> str:
    return getattr(error.__cause__, "sqlstate", None) or ""


@cache
def sentences() -> dict[str, FieldProblem]:
    """By the name of each constraint that two people can meet at: what is said, and beside which input."""
    found = {}
    for model in apps.get_models():
        for rule in model._meta.constraints:
            if rule.violation_error_message != rule.default_violation_error_message:
                text: Any = rule.violation_error_message  # in the reader's language once it is said
                found[rule.name] = FieldProblem(rule.violation_error_code or "", text)
        for field in model._meta.local_fields:
            if (
                field.unique
                and field.error_messages["unique"] != models.Field.default_error_messages["unique"]
            ):
                # PostgreSQL's own names for them.
                name = "pkey" if field.primary_key else f"{field.column}_key"
                name, text = f"{model._meta.db_table}_{name}", field.error_messages["unique"]
                found[name] = FieldProblem(field.name, text)
    return found


def lock_row(model: type[Row], pk: Any) -> Row:
    """A row as it is saved now, locked until the transaction ends. Raises Clash when it has gone.

    Alone, without joins: a lock that had to wait reads its own row again, while rows joined to it stay those of before,
    and may be missing. What hangs on the row is read afterwards. The lock leaves others free to point at the row.
    """
    found = lock_rows(model._default_manager.filter(pk=pk))
    if not found:
        raise Clash(_("This is no longer there. Look again."))
    return found[0]


def lock_rows(rows: models.QuerySet[Row]) -> list[Row]:
    """Several rows of one kind, always in the same order, so that two who lock never wait for each other."""
    return list(rows.order_by("pk").select_for_update(of=("self",), no_key=True))


def lock_name(name: str) -> None:
    """Lock something that has no row yet, by its name, until the transaction ends."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(hashtextextended(%s, 0))", [name])


def hold(*, zone_ids: Iterable[int] = (), user_ids: Iterable[int] = ()) -> None:
    """Lock what a booking takes, places before people: who books the same waits, and then meets the constraint.

    Without it, two who insert at once wait for each other at an exclusion constraint until one is thrown out.
    """
    lock_rows(Zone.objects.filter(pk__in=list(zone_ids)))
    lock_rows(User.objects.filter(pk__in=list(user_ids)))
