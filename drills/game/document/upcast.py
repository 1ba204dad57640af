"""Older schema versions to the present one, a step at a time. Each step is tested on a stored example."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drills.game.document.drill import SCHEMA_VERSION

Plain = dict[str, Any]
STEPS: dict[
    int, Callable[[Plain], Plain]
] = {}  # version → function to the next version; version 1 is the first

KNOWN_VERSIONS = frozenset({*STEPS, SCHEMA_VERSION})


def upcast(plain: Plain) -> Plain:
    """Bring plain data to the present version. An unknown version is left for the decoder to refuse."""
    version = plain.get("schema_version", SCHEMA_VERSION)
    while isinstance(version, int) and version in STEPS:
        plain = STEPS[version](plain)
        version += 1
    return plain
