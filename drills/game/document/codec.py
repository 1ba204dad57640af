"""Bytes and plain data, of any known schema version, to a typed document and back. Refusals name the field, in words for a coach."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable
from functools import cache
from typing import Any

import msgspec

from club import reading
from club.ages import under_of
from club.limits import DEEPEST
from drills.game.document.drill import SCHEMA_VERSION, DrillDocument
from drills.game.wording.rendering import Translate, text_of
from drills.game.wording.shapes import Sentence

LARGEST_BYTES = 262_144

Plain = dict[str, Any]


def _to_2(plain: Plain) -> Plain:
    """Version 1 said ages in years, `age_from` and `age_to`; version 2 says the age groups, `under_from` and `under_to`."""
    renamed = {"age_from": "under_from", "age_to": "under_to"}
    moved = {
        renamed.get(name, name): _under(value) if name in renamed else value for name, value in plain.items()
    }
    return {**moved, "schema_version": 2}


def _under(years: Any) -> Any:
    """What is no age is left for the decoder to refuse under its new name."""
    return under_of(years) if isinstance(years, int) and not isinstance(years, bool) else years


# Version → function to the next version; version 1 is the first.
STEPS: dict[int, Callable[[Plain], Plain]] = {1: _to_2}

KNOWN_VERSIONS = frozenset({*STEPS, SCHEMA_VERSION})


def upcast(plain: Plain) -> Plain:
    """Bring plain data to the present version. An unknown version is left for the decoder to refuse."""
    version = plain.get("schema_version", SCHEMA_VERSION)
    while isinstance(version, int) and version in STEPS:
        plain = STEPS[version](plain)
        version += 1
    return plain


class DocumentError(ValueError):
    """A document that can't be taken: `field` is a path such as `grids[0].length_m`, `text` says why."""

    def __init__(self, field: str, why: str | Sentence) -> None:
        text = text_of(why) if isinstance(why, Sentence) else why
        super().__init__(f"{field}: {text}" if field else text)
        self.field = field
        self.text = text
        self.why = why

    def said(self, translate: Translate) -> str:
        """Why, in the reader's language; what the decoder of JSON says stays as it is."""
        return text_of(self.why, translate) if isinstance(self.why, Sentence) else self.why


def decode(data: bytes | str | dict[str, Any]) -> DrillDocument:
    """Read a document of any known schema version. Raises DocumentError with the field and the reason."""
    plain = _plain(data) if isinstance(data, bytes | str) else data
    if not isinstance(plain, dict):
        raise DocumentError("", Sentence("document_no_object"))
    _guard(plain, "", 0)
    try:
        return msgspec.convert(upcast(plain), DrillDocument)
    except msgspec.ValidationError as error:
        text, _, path = str(error).partition(" - at `$")
        raise DocumentError(path.rstrip("`").lstrip("."), text) from error


def encode(document: DrillDocument) -> bytes:
    """The document as JSON with sorted keys: the same content always gives the same bytes."""
    return msgspec.json.encode(to_plain(document), order="deterministic")


def to_plain(document: DrillDocument) -> dict[str, Any]:
    """The document as plain dicts and lists, as the database and the API take it.

    What equals its default is left out, whether it was written or not: equal documents are equal plain data.
    """
    plain: dict[str, Any] = _lean(document)
    return {"schema_version": document.schema_version, **plain}  # never left out, although it is a default


def _lean(value: Any) -> Any:
    if isinstance(value, msgspec.Struct):
        config = value.__struct_config__
        kept: dict[str, Any] = {} if config.tag is None else {str(config.tag_field): config.tag}
        for field in _fields(type(value)):
            inner = getattr(value, field.name)
            if not (config.omit_defaults and inner == field.default):
                kept[field.encode_name] = _lean(inner)
        return kept
    if isinstance(value, tuple):
        return [_lean(each) for each in value]
    return msgspec.to_builtins(value)


_fields = cache(msgspec.structs.fields)  # works out the annotations of a type anew each time


def digest(document: DrillDocument) -> str:
    """SHA-256 of the encoded document, hexadecimal: equal content, equal digest."""
    return hashlib.sha256(encode(document)).hexdigest()


def json_schema() -> dict[str, Any]:
    """The JSON Schema of the document as its types say it."""
    return msgspec.json.schema(DrillDocument)


def published_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of the document as it is published, with its version.

    Beyond it a document is refused for what a schema cannot say: contradictions, and keys that name nothing.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:bibrack:drill:{SCHEMA_VERSION}",
        "title": f"Drill document, schema version {SCHEMA_VERSION}",
        **json_schema(),
    }


def _plain(data: bytes | str) -> Any:
    raw = data.encode() if isinstance(data, str) else data
    if len(raw) > LARGEST_BYTES:
        raise DocumentError("", Sentence("document_too_large", {"most": LARGEST_BYTES}))
    try:
        return reading.json_value(raw, DEEPEST)
    except reading.Unreadable as error:
        text = str(error)
        raise DocumentError("", f"{text[0].lower()}{text[1:].rstrip('.')}") from error


def _guard(value: Any, path: str, depth: int) -> None:
    if depth > DEEPEST:
        raise DocumentError(path, Sentence("document_too_deep", {"most": DEEPEST}))
    if isinstance(value, float) and not math.isfinite(value):
        raise DocumentError(path, Sentence("document_no_number"))
    if isinstance(value, str) and not reading.is_text(value):
        raise DocumentError(path, Sentence("document_odd_character"))
    if isinstance(value, dict):
        for name, inner in value.items():
            _guard(inner, f"{path}.{name}" if path else str(name), depth + 1)
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            _guard(inner, f"{path}[{index}]", depth + 1)
