"""A drill's document in other colours: bibs, drawn players and every sentence that speaks of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache
from typing import Any

import msgspec
from msgspec.inspect import Field, Metadata, StrType, StructType, Type, type_info

from drills.game.bibs.words import colours_of_goals, recoloured
from drills.game.document.drill import DrillDocument
from drills.game.scene import SceneZone

_EXACT = frozenset({"bib"})
# Texts that name somebody or something, where any colour is that of players.
_NAMES = frozenset({"name", "role", "who"})
_NEVER = frozenset({"format", "kind", "colour", "label", "schema_version"})


def in_colours(document: DrillDocument, wear: Mapping[str, str]) -> DrillDocument:
    """The document as it reads when `wear` (written colour → colour tonight) is worn. Total: what it doesn't name stays."""
    changed = frozenset((written, tonight) for written, tonight in wear.items() if written != tonight)
    return _remembered(document, changed) if changed else document


@lru_cache(maxsize=64)
def _remembered(document: DrillDocument, changed: frozenset[tuple[str, str]]) -> DrillDocument:
    """Several set-ups of a night wear the same."""
    goals = colours_of_goals(each.key for each in document.goals)
    made: DrillDocument = _struct(document, _Colours(dict(changed), goals))
    return msgspec.structs.replace(made, title=document.title)


@dataclass(frozen=True, slots=True)
class _Colours:
    """What is worn, and the colours that goals are called by."""

    wear: Mapping[str, str]
    goals: frozenset[str]


def _struct(value: Any, worn: _Colours) -> Any:
    changes = {}
    names = _NAMES | {"title"} if isinstance(value, SceneZone) else _NAMES
    for name in value.__struct_fields__:
        old = getattr(value, name)
        if name in _NEVER or name in key_fields(value.__class__):
            continue
        new = _value(old, worn, name in _EXACT, name in names)
        if new is not old:
            changes[name] = new
    return msgspec.structs.replace(value, **changes) if changes else value


def _value(value: Any, worn: _Colours, exact: bool, named: bool) -> Any:
    if isinstance(value, msgspec.Struct):
        return _struct(value, worn)
    if isinstance(value, tuple):
        made = tuple(_value(each, worn, exact, named) for each in value)
        return value if all(new is old for new, old in zip(made, value, strict=True)) else made
    if not isinstance(value, str) or isinstance(value, Enum):
        return value
    if exact:
        return worn.wear.get(value.lower(), value)
    said = recoloured(value, worn.wear, name=named, goals=worn.goals)
    return value if said == value else said


@dataclass(frozen=True, slots=True)
class DocumentText:
    """A text of a document: the top field that it stands in, and whether it names somebody or something."""

    field: str
    text: str
    name: bool


def texts_of(document: DrillDocument) -> Iterator[DocumentText]:
    """Every text of a document that speaks, its own title left out."""
    for name in document.__struct_fields__:
        if name not in ("title", *_NEVER) and name not in key_fields(DrillDocument):
            yield from _texts(getattr(document, name), name, name)


def _texts(value: Any, field: str, name: str) -> Iterator[DocumentText]:
    if isinstance(value, msgspec.Struct):
        titles = isinstance(value, SceneZone)
        for inner in value.__struct_fields__:
            if inner not in _NEVER | _EXACT and inner not in key_fields(value.__class__):
                yield from _texts(getattr(value, inner), field, "name" if titles else inner)
    elif isinstance(value, tuple):
        for each in value:
            yield from _texts(each, field, name)
    elif isinstance(value, str) and not isinstance(value, Enum):
        yield DocumentText(field, value, name in _NAMES)


@cache
def key_fields(kind: type) -> frozenset[str]:
    """The fields that hold keys, which name things and are never read out."""
    info = type_info(kind)
    assert isinstance(info, StructType)
    return frozenset(each.name for each in info.fields if _is_key(each))


def _is_key(field: Field) -> bool:
    return any(isinstance(each, StrType) and each.pattern is not None for each in _types(field.type))


def _types(kind: Type) -> list[Type]:
    if isinstance(kind, Metadata):
        return _types(kind.type)
    inner: list[Any] = [*getattr(kind, "types", ())]
    if isinstance(item := getattr(kind, "item_type", None), Type):
        inner.append(item)
    return [kind, *(found for each in inner for found in _types(each))]
