"""How an editable row is saved: locked, its version compared and raised, checked, all in one transaction."""

from typing import Any, TypeVar

from django.apps import apps
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models

from club.actions.conflicts import lock_row, sentences
from club.errors import FieldProblem, Refused, Stale
from club.validators import line_problems

Row = TypeVar("Row", bound=models.Model)


def locked(row: Row, version: int) -> Row:
    """The row as saved now, locked, its version raised in memory. Raises Stale when somebody saved before."""
    found: Any = lock_row(type(row), row.pk)
    if found.version != version:
        raise Stale(theirs=found, base=as_it_was(row, version), version=found.version)
    found.version += 1
    return found


def as_it_was(row: models.Model, version: int) -> Any:
    """The kept history row of an earlier version; None where no history is kept."""
    name = f"{type(row).__name__}Event"
    if name.lower() not in apps.all_models[row._meta.app_label]:
        return None
    history: Any = apps.get_model(row._meta.app_label, name)
    return history.objects.filter(pgh_obj_id=row.pk, version=version).order_by("-pgh_id").first()


def save_checked(row: Row, *, but: tuple[str, ...] = ()) -> Row:
    """Save a row whose fields and constraints hold; else Refused with a text beside each field."""
    try:
        row.full_clean(exclude=set(but))
    except ValidationError as error:
        raise Refused(_problems(error)) from error
    if problems := line_problems(**_lines(row)):
        raise Refused(problems)
    row.save()
    return row


def _problems(error: ValidationError) -> list[FieldProblem]:
    """Each text beside its field; a constraint's beside the input that it names."""
    beside = {each.field for each in sentences().values()}
    return [
        FieldProblem(field if field != NON_FIELD_ERRORS else each.code if each.code in beside else "", text)
        for field, errors in error.error_dict.items()
        for each in errors
        for text in each.messages
    ]


def _lines(row: models.Model) -> dict[str, str]:
    """The names, titles and the like of a row: all its texts but those that are written over several lines."""
    fields = row._meta.concrete_fields
    return {each.name: each.value_from_object(row) or "" for each in fields if type(each) is models.CharField}


def change(row: Row, version: int, values: dict[str, Any]) -> Row:
    """Set some fields of an editable row and save it checked."""
    fresh = locked(row, version)
    for name, value in values.items():
        setattr(fresh, name, value)
    return save_checked(fresh)
