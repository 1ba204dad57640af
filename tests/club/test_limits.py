"""Every field of every form and endpoint says how long its text may be and how large its number."""

import importlib
import pkgutil
from collections.abc import Iterator
from typing import Any

import pytest
from django import forms
from django.test import Client
from rest_framework import serializers

from club.forms.account import ChosenPasswordForm
from club.forms.typed import DayField
from club.limits import LIST, LOADED, PASSWORD, VERSION
from tests.people import People

OURS = ("club", "drills", "sessions")
# Fields of a library's form, bounded when ours is made.
FROM_THE_LIBRARY = {(ChosenPasswordForm, name) for name in ChosenPasswordForm.base_fields}


def everything() -> None:
    for app in OURS:
        for room in ("forms", "api"):
            package = importlib.import_module(f"{app}.{room}")
            for each in pkgutil.walk_packages(getattr(package, "__path__", ()), f"{app}.{room}."):
                importlib.import_module(each.name)


def classes(base: type) -> set[type]:
    found = set(base.__subclasses__())
    return found.union(*(classes(each) for each in found))


def ours(base: type) -> Iterator[tuple[str, Any]]:
    everything()
    for each in sorted(classes(base), key=lambda one: f"{one.__module__}.{one.__qualname__}"):
        if each.__module__.split(".")[0] in OURS:
            yield f"{each.__module__}.{each.__qualname__}", each


def typed_fields() -> Iterator[tuple[str, forms.Field]]:
    for name, form in ours(forms.BaseForm):
        for field in getattr(form, "base_fields", {}):
            if (form, field) not in FROM_THE_LIBRARY:
                yield f"{name}.{field}", form.base_fields[field]


def sent_fields() -> Iterator[tuple[str, serializers.Field]]:
    """Of the shapes that come in; those that go out are ours to fill."""
    for name, shape in ours(serializers.Serializer):
        if name.endswith(("In", "Patch")):
            for field in shape._declared_fields:
                yield from within(f"{name}.{field}", shape._declared_fields[field])


def within(name: str, field: Any) -> Iterator[tuple[str, Any]]:
    yield name, field
    if isinstance(field, serializers.ListField | serializers.DictField):
        yield from within(f"{name}[]", field.child)


def unbounded(field: Any, whole: Any, text: Any, day: Any, house_day: Any) -> bool:
    if isinstance(field, whole):
        least, most = getattr(field, "min_value", None), getattr(field, "max_value", None)
        return least is None or most is None or abs(least) > VERSION or abs(most) > VERSION
    if isinstance(field, day):
        return not isinstance(field, house_day)
    if isinstance(field, text):
        longest = field.max_length or getattr(field, "longest", None)
        return longest is None or longest > LOADED
    return False


def test_every_field_of_a_form_is_bounded() -> None:
    numbers = (forms.IntegerField, forms.FloatField, forms.DecimalField)
    days = (forms.DateField, forms.DateTimeField)
    found = dict(typed_fields())
    texts = {name: each for name, each in found.items() if not isinstance(each, forms.UUIDField)}
    assert len(found) > 150
    assert [
        name for name, each in texts.items() if unbounded(each, numbers, forms.CharField, days, DayField)
    ] == []


@pytest.mark.django_db
def test_a_password_that_is_chosen_is_bounded_like_others(people: People, client: Client) -> None:
    client.force_login(people.coach, backend="django.contrib.auth.backends.ModelBackend")
    long = "ö4" * PASSWORD
    page = client.post(
        "/accounts/password/change/", {"password1": long, "password2": long, "oldpassword": long}
    )
    assert f"at most {PASSWORD} characters" in page.content.decode()


def test_every_field_that_the_api_takes_is_bounded() -> None:
    from club.api_fields import PlannedDayField

    numbers = (serializers.IntegerField, serializers.FloatField, serializers.DecimalField)
    days = (serializers.DateField, serializers.DateTimeField)
    found = dict(sent_fields())
    assert len(found) > 60
    assert [
        name
        for name, each in found.items()
        if unbounded(each, numbers, serializers.CharField, days, PlannedDayField)
    ] == []
    lists = {name: each for name, each in found.items() if isinstance(each, serializers.ListField)}
    assert [name for name, each in lists.items() if each.max_length is None or each.max_length > LIST] == []


def test_a_number_that_is_none_is_refused_as_text_too() -> None:
    from club.api_fields import Number, Whole

    for text in ("NaN", "Infinity", "1e999", "²"):
        assert not form(Number()).__class__(data={"field": text}).is_valid()
        assert not form(Whole()).__class__(data={"field": text}).is_valid()


def form(field: Any) -> Any:
    return type("One", (serializers.Serializer,), {"field": field})()
