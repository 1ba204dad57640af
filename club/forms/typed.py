"""Fields over the one reader (`club.reading`): what people type as days, times and numbers, and what a page sends along."""

from datetime import date, time
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from club import reading
from club.limits import AS_TYPED, LOADED, NUMBER, VERSION


class DayField(forms.DateField):
    """A day in the years that a club plans, as every browser sends it."""

    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    default_error_messages = {"invalid": _("A day between 2000 and 2099, please.")}

    def to_python(self, value: Any) -> date | None:
        if value in self.empty_values:
            return None
        found = value if isinstance(value, date) else reading.day(value)
        if found is None:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return found


class ClockField(forms.TimeField):
    """A time on the clock, to the minute."""

    widget = forms.TimeInput(attrs={"type": "time"}, format="%H:%M")

    def to_python(self, value: Any) -> time | None:
        if value in self.empty_values:
            return None
        found = value if isinstance(value, time) else reading.clock(value)
        if found is None:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return found


class WholeField(forms.IntegerField):
    """A whole number. Where an action has narrower limits and words of its own, only what no column holds is kept out."""

    def __init__(self, *, min_value: int = -NUMBER, max_value: int = NUMBER, **more: Any) -> None:
        super().__init__(min_value=min_value, max_value=max_value, **more)

    def to_python(self, value: Any) -> int | None:
        if isinstance(value, str) and len(value) > AS_TYPED:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return super().to_python(value)


class NumberField(forms.FloatField):
    """A number, after a point or a comma: 6.5 as well as 6,5."""

    def __init__(self, *, min_value: float = -NUMBER, max_value: float = NUMBER, **more: Any) -> None:
        super().__init__(min_value=min_value, max_value=max_value, **more)

    def to_python(self, value: Any) -> Any:
        if value in self.empty_values:
            return None
        found = reading.number(value)
        if found is None:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return found


def version_field(**more: Any) -> forms.IntegerField:
    """The version that a form began from; it travels along, hidden."""
    return WholeField(widget=forms.HiddenInput, min_value=0, max_value=VERSION, **more)


class LoadedField(forms.JSONField):
    """What a page began with, sent along by the page itself: named texts. What somebody made of it instead is nothing."""

    widget = forms.HiddenInput
    longest = LOADED

    def to_python(self, value: Any) -> Any:
        if not isinstance(value, str) or len(value) > self.longest:
            return None
        try:
            found = reading.json_value(value.encode())
        except ValueError:  # also a text that can't be written as bytes
            return None
        return found if isinstance(found, dict) else None

    def bound_data(self, data: Any, initial: Any) -> Any:
        """What the page shows again; the framework would read it with no bound."""
        return self.to_python(data)
