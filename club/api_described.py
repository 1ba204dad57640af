"""What the API answers, as msgspec structs: one definition makes the answer, rendered here, and its OpenAPI description."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import cache
from types import GenericAlias
from typing import Annotated, Any, TypeVar

import msgspec
from django.utils.timezone import get_current_timezone
from drf_spectacular.extensions import OpenApiSerializerExtension
from drf_spectacular.plumbing import ResolvedComponent, build_choice_field
from rest_framework import serializers, status
from rest_framework.response import Response

Shape = TypeVar("Shape", bound=msgspec.Struct)
Choices = Iterable[tuple[Any, Any]] | Iterable[str]
Moment = Annotated[datetime, msgspec.Meta(tz=True)]
Clock = Annotated[str, msgspec.Meta(pattern=r"^\d\d:\d\d$", description="On the club's clock, 18:30.")]


def one_of(choices: Choices) -> msgspec.Meta:
    """Beside a type: the values that there are, described as those of a field that is sent."""
    field = serializers.ChoiceField(choices=choices)  # type: ignore[arg-type]
    return msgspec.Meta(extra_json_schema=build_choice_field(field))


def shaped(shape: type[Shape], value: Any, /, **given: Any) -> Shape:
    """A struct out of a value: fields that aren't given are the value's own of the same name, and so on inside it.

    Everything is checked: ids may be texts, figures decimals. Raises msgspec.ValidationError, and AttributeError for a
    field that the value hasn't got.
    """
    if not given:
        return msgspec.convert(value, shape, from_attributes=True)
    own = {name: getattr(value, name) for name in shape.__struct_fields__ if name not in given}
    return msgspec.convert({**own, **given}, shape, from_attributes=True)


def built(shape: Any) -> Any:
    """A struct, or a list of them, as dicts and lists; moments stay as they are."""
    return msgspec.to_builtins(shape, builtin_types=(datetime,), enc_hook=_bare)


def plain(shape: Any) -> Any:
    """A struct, or a list of them, as JSON's own types; moments in the club's zone, as RFC 3339 writes them."""
    return _local(built(shape))


def answer(shape: Any, code: int = status.HTTP_200_OK, headers: Mapping[str, str] | None = None) -> Response:
    """A struct, or a list of them, as the answer of an endpoint."""
    return Response(plain(shape), status=code, headers=dict(headers or {}))


def _local(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _local(each) for name, each in value.items()}
    if isinstance(value, list):
        return [_local(each) for each in value]
    return (
        msgspec.to_builtins(value.astimezone(get_current_timezone()))
        if isinstance(value, datetime)
        else value
    )


def _bare(value: Any) -> Any:
    """A text or a number of a class of its own (marked as safe, or worked out in an array) as the plain one."""
    if isinstance(value, str):
        return str.__str__(value)
    if isinstance(value, float):
        return float.__float__(value)
    raise TypeError(f"{type(value).__name__} can't be sent.")


def component(shape: type[msgspec.Struct]) -> str:
    """The name of a struct in the description: `Shape` at its end tells it from a model of the same name."""
    return shape.__name__.removesuffix("Shape")


class Described:
    """Stands for a struct, or a list of `many`, where REST framework's schema expects a serializer."""

    def __init__(self, shape: type[msgspec.Struct], *, many: bool = False) -> None:
        self.shape = shape
        self.many = many


class Listed(Described):
    """Stands for a page of a list, as `club.api_tools.paged` answers it."""

    def __init__(self, shape: type[msgspec.Struct]) -> None:
        super().__init__(_page_of(shape))


@cache
def _page_of(shape: type[msgspec.Struct]) -> type[msgspec.Struct]:
    fields: list[Any] = [
        ("count", int),
        ("next", str | None),
        ("previous", str | None),
        ("results", GenericAlias(list, shape)),
    ]
    named = f"Paginated{component(shape)}List"
    return msgspec.defstruct(named, fields, namespace={"__doc__": "A page of the list."})


class DescribedExtension(OpenApiSerializerExtension):  # type: ignore[no-untyped-call]
    """Registers a struct, and every struct inside it, as components."""

    target_class = Described
    match_subclasses = True

    def get_name(self, auto_schema: Any = None, direction: Any = None) -> str:
        return component(self.target.shape) + ("List" if self.target.many else "")

    def get_identity(self, auto_schema: Any, direction: Any) -> Any:
        return _identity(self.get_name())

    def map_serializer(self, auto_schema: Any, direction: Any) -> dict[str, Any]:
        shape, many = self.target.shape, self.target.many
        (schema,), components = msgspec.json.schema_components(
            [GenericAlias(list, shape) if many else shape], ref_template=REF
        )
        own = self.get_name()
        described = {name.removesuffix("Shape"): _typed(each) for name, each in components.items()}
        for name, each in described.items():
            if name != own:
                found = ResolvedComponent(
                    name=name, type=ResolvedComponent.SCHEMA, schema=each, object=_identity(name)
                )
                auto_schema.registry.register_on_missing(found)
        return dict(_typed(schema) if many else described[own])


REF = "#/components/schemas/{name}"


def _identity(name: str) -> str:
    return f"msgspec:{name}"


def _typed(schema: Any) -> Any:
    """The same schema with names as `component` says, and a type beside each list of values, which the tools expect."""
    if isinstance(schema, list):
        return [_typed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    made = {name: _typed(each) for name, each in schema.items()}
    for name in ("$ref", "title"):
        if isinstance(made.get(name), str):
            made[name] = made[name].removesuffix("Shape")
    values = made.get("enum")
    if isinstance(values, list) and "type" not in made:
        made["type"] = "string" if all(isinstance(each, str) for each in values) else "integer"
    return made
