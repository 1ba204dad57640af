"""msgspec shapes in the OpenAPI description: one definition for the answers, the documents and their schema."""

from typing import Any

import msgspec
from drf_spectacular.extensions import OpenApiSerializerExtension
from drf_spectacular.plumbing import ResolvedComponent

REF = "#/components/schemas/{name}"


class Described:
    """Stands for a msgspec struct where REST framework's schema expects a serializer."""

    def __init__(self, shape: type[msgspec.Struct]) -> None:
        self.shape = shape


class DescribedExtension(OpenApiSerializerExtension):  # type: ignore[no-untyped-call]
    """Registers a struct, and every struct inside it, as components."""

    target_class = Described

    def get_name(self, auto_schema: Any = None, direction: Any = None) -> str:
        return self.target.shape.__name__

    def get_identity(self, auto_schema: Any, direction: Any) -> Any:
        return self.target.shape

    def map_serializer(self, auto_schema: Any, direction: Any) -> dict[str, Any]:
        shape = self.target.shape
        _, components = msgspec.json.schema_components([shape], ref_template=REF)
        components = _typed(components)
        for name, schema in components.items():
            if name != shape.__name__:
                component = ResolvedComponent(
                    name=name, type=ResolvedComponent.SCHEMA, schema=schema, object=f"msgspec:{name}"
                )
                auto_schema.registry.register_on_missing(component)
        return dict(components[shape.__name__])


def _typed(schema: Any) -> Any:
    """The same schema with a type beside each list of values, which the description's tools expect."""
    if isinstance(schema, list):
        return [_typed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    made = {name: _typed(each) for name, each in schema.items()}
    values = made.get("enum")
    if isinstance(values, list) and "type" not in made:
        made["type"] = "string" if all(isinstance(each, str) for each in values) else "integer"
    return made
