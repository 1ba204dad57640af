"""Every route of the installation, found by walking the URL resolver, and every row of the tables."""

import importlib
import pkgutil
from collections.abc import Iterator
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver

import tests.access
from tests.access.rows import Row


def routes() -> dict[str, Any]:
    """View callbacks by full name, such as `club:squad`."""
    return dict(_walk(get_resolver(), ""))


def _walk(resolver: URLResolver, prefix: str) -> Iterator[tuple[str, Any]]:
    for name, entry in _entries(resolver, prefix):
        yield name, entry.callback


def _entries(resolver: URLResolver, prefix: str) -> Iterator[tuple[str, URLPattern]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            inner = f"{prefix}{entry.namespace}:" if entry.namespace else prefix
            yield from _entries(entry, inner)
        elif isinstance(entry, URLPattern):
            yield f"{prefix}{entry.name}", entry


def parameters() -> dict[str, set[str]]:
    """The parts of each route's address that differ from request to request, by the route's full name."""
    return {name: set(entry.pattern.regex.groupindex) for name, entry in _entries(get_resolver(), "")}


def room_of(callback: Any) -> str:
    """The package that a view lives in: club, drills, sessions, bibrack, or somebody else's."""
    view = getattr(callback, "cls", None) or getattr(callback, "view_class", None) or callback
    return str(view.__module__).split(".")[0]


def tables() -> dict[str, list[Row]]:
    """The rows of every room that has a table."""
    names = [found.name for found in pkgutil.iter_modules(tests.access.__path__)]
    return {
        name.removeprefix("table_"): importlib.import_module(f"tests.access.{name}").ROWS
        for name in names
        if name.startswith("table_")
    }


def all_rows() -> list[Row]:
    return [row for rows in tables().values() for row in rows]
