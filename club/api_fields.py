"""Fields of the API over the one reader (`club.reading`): numbers that a column holds, days that a club plans, short lists."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from rest_framework import serializers

from club import reading
from club.limits import LIST, NUMBER


class Whole(serializers.IntegerField):
    """A whole number. Where an action has narrower limits and words of its own, only what no column holds is kept out."""

    def __init__(self, *, min_value: int = -NUMBER, max_value: int = NUMBER, **more: Any) -> None:
        super().__init__(min_value=min_value, max_value=max_value, **more)


class Number(serializers.FloatField):
    """A finite number. Given as a text too, as the framework allows, but not `NaN`."""

    def __init__(self, *, min_value: float = -NUMBER, max_value: float = NUMBER, **more: Any) -> None:
        super().__init__(min_value=min_value, max_value=max_value, **more)

    def to_internal_value(self, data: Any) -> float:
        found = reading.number(data)
        if found is None:
            self.fail("invalid")
        return found


class PlannedDayField(serializers.DateField):
    """A day in the years that a club plans."""

    def to_internal_value(self, value: Any) -> date:
        found = reading.day(value)
        if found is None:
            self.fail("invalid", format="YYYY-MM-DD, from 2000 to 2099")
        return found


class Several(serializers.ListField):
    """A list with a most."""

    def __init__(self, *, max_length: int = LIST, **more: Any) -> None:
        super().__init__(max_length=max_length, **more)


class Named(serializers.DictField):
    """Named values, not too many and with short names."""

    default_error_messages = {"too_many": f"At most {LIST} entries, each with a short name."}

    def to_internal_value(self, data: Any) -> Any:
        if isinstance(data, dict) and not _few(data):
            self.fail("too_many")
        return super().to_internal_value(data)


def _few(names: Iterable[Any]) -> bool:
    every = list(names)
    return len(every) <= LIST and all(isinstance(each, str) and len(each) <= LIST for each in every)
