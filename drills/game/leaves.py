"""What differs between two pieces of a document, down to the single value, whatever their types are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec


@dataclass(frozen=True)
class Leaf:
    """One value that differs. `path` names fields, and items of lists by their key, else by their place from 1.

    A side is None where there is nothing: an optional field, or an item that only the other side has.
    """

    path: tuple[str, ...]
    before: Any
    after: Any


def leaves(before: Any, after: Any, path: tuple[str, ...] = ()) -> Iterator[Leaf]:
    """The values that differ, in the order of the document; nothing for equal pieces."""
    if before == after:
        return
    if isinstance(before, msgspec.Struct) and type(before) is type(after):
        for name in before.__struct_fields__:
            yield from leaves(getattr(before, name), getattr(after, name), (*path, name))
    elif are_pieces(before) and are_pieces(after):
        yield from _of_lists(before, after, path)
    else:
        yield Leaf(path, before, after)


def _of_lists(before: tuple[Any, ...], after: tuple[Any, ...], path: tuple[str, ...]) -> Iterator[Leaf]:
    for name, old, new in paired(before, after):
        yield from leaves(_at(before, old), _at(after, new), (*path, name))
    first, second = _keys(before), _keys(after)
    if (
        first
        and second
        and [each for each in first if each in second] != [each for each in second if each in first]
    ):
        yield Leaf((*path, "order"), first, second)


def paired(before: tuple[Any, ...], after: tuple[Any, ...]) -> list[tuple[str, int | None, int | None]]:
    """The places of items that belong together, with what they are called: by key, else by place from 1."""
    first, second = _keys(before), _keys(after)
    if first is None or second is None:
        longest = range(max(len(before), len(after)))
        return [(str(at + 1), _within(at, before), _within(at, after)) for at in longest]
    old, new = ({key: at for at, key in enumerate(keys)} for keys in (first, second))
    return [(key, old.get(key), new.get(key)) for key in (old | new)]


def are_pieces(value: Any) -> bool:
    """Whether it is a list of pieces, and not of plain words, which read as one value."""
    return isinstance(value, tuple) and all(isinstance(each, msgspec.Struct) for each in value)


def _keys(items: tuple[Any, ...]) -> tuple[str, ...] | None:
    """The items' keys; None where one has none, or two have the same."""
    keys = tuple(each.key for each in items if "key" in each.__struct_fields__)
    return keys if len(set(keys)) == len(items) else None


def _within(place: int, items: tuple[Any, ...]) -> int | None:
    return place if place < len(items) else None


def _at(items: tuple[Any, ...], place: int | None) -> Any:
    return None if place is None else items[place]
