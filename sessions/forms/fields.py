"""Fields with a coach's words for what is wrong, and rows to choose from by their outer ids."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.errors import Refused
from club.forms.typed import ClockField, DayField, NumberField, WholeField
from club.limits import AS_TYPED

_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9])")
_SECONDS = re.compile(r"([0-9]{1,4})\s{0,9}s")
_MINUTES = re.compile(r"([0-9]{1,3}(?:[.,][0-9]{1,2})?)(?:\s{0,9}min)?")


def whole(label: Any, *, help_text: Any = "", required: bool = True, **extra: Any) -> forms.IntegerField:
    """A whole number, typed on a keypad; its limits are the validators' own."""
    return WholeField(
        label=label,
        help_text=help_text,
        required=required,
        error_messages={
            "invalid": gettext_lazy("A whole number, please: 12."),
            "required": gettext_lazy("Say how many."),
        },
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4, "autocomplete": "off"}),
        **extra,
    )


def decimal(label: Any, *, help_text: Any = "", required: bool = True, **extra: Any) -> forms.FloatField:
    """A number that may have a fraction."""
    return NumberField(
        label=label,
        help_text=help_text,
        required=required,
        error_messages={
            "invalid": gettext_lazy("A number, please: 6 or 6.5."),
            "required": gettext_lazy("Say how much."),
        },
        widget=forms.TextInput(attrs={"inputmode": "decimal", "size": 4, "autocomplete": "off"}),
        **extra,
    )


class Stretch(forms.CharField):
    """Minutes and seconds as people write them: `3`, `3:30`, `2.5`, `45 s`. Its value is seconds."""

    longest = AS_TYPED

    def __init__(self, **given: Any) -> None:
        attrs = {"size": 5, "inputmode": "text", "autocomplete": "off"}
        super().__init__(widget=forms.TextInput(attrs=attrs), **given)

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value).strip()
        if not text:
            return None
        seconds = seconds_of(text) if len(text) <= self.longest else None
        if seconds is None:
            words = _("“{text}” is no length of time: write 3, 3:30 or 45 s.")
            raise forms.ValidationError(words.format(text=text[:20]))
        return seconds


def seconds_of(text: str) -> int | None:
    """Seconds of `3`, `3:30`, `2.5` or `45 s`; None for anything else."""
    if found := _CLOCK.fullmatch(text):
        return int(found[1]) * 60 + int(found[2])
    if found := _SECONDS.fullmatch(text):
        return int(found[1])
    if found := _MINUTES.fullmatch(text):
        return round(float(found[1].replace(",", ".")) * 60)
    return None


def seconds_text(seconds: int) -> str:
    """`3:30`."""
    return f"{seconds // 60}:{seconds % 60:02}"


def day_field(label: Any) -> DayField:
    return DayField(
        label=label,
        error_messages={"invalid": gettext_lazy("A day, please."), "required": gettext_lazy("Which day?")},
    )


def clock_field(label: Any) -> ClockField:
    return ClockField(
        label=label,
        error_messages={
            "invalid": gettext_lazy("A time on the clock, please: 18:00."),
            "required": gettext_lazy("At what time?"),
        },
    )


def row_choice(label: Any, rows: Iterable[Any], *, empty: Any = None, **given: Any) -> forms.TypedChoiceField:
    """One row, chosen by its outer id; its value is the row."""
    known = {str(each.public_id): each for each in rows}
    choices = [(key, str(row)) for key, row in known.items()]
    return forms.TypedChoiceField(
        label=label,
        choices=[("", empty), *choices] if empty is not None else choices,
        coerce=lambda key: known[key],
        empty_value=None,
        required=empty is None,
        error_messages={"invalid_choice": gettext_lazy("This is not among the choices (any more).")},
        **given,
    )


def row_choices(label: Any, rows: Iterable[Any], *, required: bool = True, **given: Any) -> Any:
    """Several rows, ticked; its value is the list of rows in the order of the list."""
    known = {str(each.public_id): each for each in rows}
    return forms.TypedMultipleChoiceField(
        label=label,
        choices=[(key, str(row)) for key, row in known.items()],
        coerce=lambda key: known[key],
        required=required,
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "invalid_choice": gettext_lazy("This is not among the choices (any more)."),
            "required": gettext_lazy("Tick at least one."),
        },
        **given,
    )


def add_problems(form: forms.BaseForm, refused: Refused, names: Mapping[str, str] | None = None) -> None:
    """Put what an action refused beside the fields it is about; what has no field stands above all."""
    for problem in refused.problems:
        field = (names or {}).get(problem.field, problem.field)
        form.add_error(field if field in form.fields else None, problem.text)
