"""Bodies for the API out of its own description: one that may well be right, and the same with odd values in it."""

import json
from collections.abc import Iterator
from datetime import date, timedelta
from random import Random
from typing import Any

from tests.fuzz.odd import RAW, VALUES

Path = tuple[Any, ...]
MARK = "@@raw@@"
SOON = date.today() + timedelta(days=2)
USUAL: dict[str, Any] = {
    "day": SOON.isoformat(),
    "first_day": SOON.isoformat(),
    "last_day": (SOON + timedelta(days=90)).isoformat(),
    "starts": "18:00",
    "ends": "19:00",
    "at": f"{date.today()}T18:05:00+00:00",
    "id": "12345678-1234-4234-8234-123456789abc",
    "numbers": "5v5",
    "format": "5v5",
    "minutes": 20,
    "bout_s": 300,
    "length": 40.0,
    "width": 30.0,
    "players": 12,
    "effort": 5.0,
    "bouts": 1,
    "grids": 1,
    "days": 30,
    "teams": 3,
    "inside": 2,
    "how": "as usual",
}
# Left out of a body that may well be right: what names a row that is not there, or says the same in another way.
LEFT_OUT = {"keep", "slot"}


class Described:
    """The operations that take a body."""

    def __init__(self, schema: dict[str, Any], things: dict[str, Any]) -> None:
        self.schema, self.things = schema, things

    def operations(self) -> Iterator[tuple[str, str, Any]]:
        """Method, path as described, and the schema of the body (None where it takes none)."""
        for path, methods in self.schema["paths"].items():
            for method, operation in methods.items():
                if method in ("get", "post", "put", "patch", "delete"):
                    body = operation.get("requestBody", {}).get("content", {}).get("application/json", {})
                    yield method.upper(), path, body.get("schema")

    def asked(self) -> set[str]:
        """The names of all parameters in query strings."""
        every = [
            each
            for methods in self.schema["paths"].values()
            for operation in methods.values()
            for each in operation.get("parameters", ())
        ]
        return {each["name"] for each in every if each["in"] == "query"}

    def usual(self, schema: Any, name: str = "", depth: int = 0) -> Any:
        """A value that may well be right."""
        if "$ref" in schema:
            called = schema["$ref"].rpartition("/")[2]
            whole = called.removesuffix("Request").removeprefix("Patched")
            if whole in self.things:
                return self.things[whole]
            schema = self.schema["components"]["schemas"][called]
        for several in ("allOf", "oneOf", "anyOf"):
            if several in schema:
                return self.usual(schema[several][0], name, depth + 1)
        if "const" in schema or "enum" in schema:
            return schema.get("const", schema.get("enum", [None])[0])
        if name in self.things and schema.get("type") != "array":
            return self.things[name]
        if name in USUAL:
            return USUAL[name]
        return self._of_type(schema, name, depth)

    def _of_type(self, schema: Any, name: str, depth: int) -> Any:
        kind = schema.get("type", "object" if "properties" in schema else "string")
        kind = next((each for each in kind if each != "null"), "null") if isinstance(kind, list) else kind
        if kind == "object":
            inner = schema.get("properties", {}) if depth < 9 else {}
            needed = schema.get("required", ())
            return {
                key: self.usual(each, key, depth + 1)
                for key, each in inner.items()
                if key in needed
                or (
                    (depth < 4 and key not in LEFT_OUT and each.get("format") != "uuid") or key in self.things
                )
            }
        if kind == "array":
            least = schema.get("minItems", 1)
            return [
                self.usual(schema.get("items", {}), name.removesuffix("s"), depth + 1) for _ in range(least)
            ]
        simple = {"integer": 1, "number": 1.0, "boolean": True, "null": None}
        return (
            max(simple[kind], schema.get("minimum", 0))
            if kind in ("integer", "number")
            else simple.get(kind, "x")
        )


def places(data: Any, path: Path = ()) -> Iterator[Path]:
    """The way to each value."""
    yield path
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, each in inner:
        yield from places(each, (*path, key))


def put(data: Any, path: Path, value: Any) -> Any:
    """The data with another value at this place; as it is where something odd has taken the place away."""
    if not path:
        return value
    if isinstance(data, dict) and path[0] in data:
        return {**data, path[0]: put(data[path[0]], path[1:], value)}
    if isinstance(data, list) and isinstance(path[0], int) and path[0] < len(data):
        return [*data[: path[0]], put(data[path[0]], path[1:], value), *data[path[0] + 1 :]]
    return data


def oddly(data: Any, chance: Random, many: int) -> bytes:
    """The data with odd values at some of its places, some of them nothing that JSON knows."""
    ways, raw = list(places(data)), []
    for path in chance.sample(ways, min(many, len(ways))):
        if chance.random() < 0.25:
            raw.append(chance.choice(RAW))
            data = put(data, path, f"{MARK}{len(raw) - 1}")
        else:
            data = put(data, path, chance.choice(VALUES))
    text = json.dumps(data)
    for number, each in enumerate(raw):
        text = text.replace(f'"{MARK}{number}"', each)
    return text.encode("utf-8", "surrogatepass")
