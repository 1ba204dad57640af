"""A set-up as it is kept beside a station or a proposal: whole, with the bibs that go with it, as plain data."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import msgspec

from drills.game.bibs.tonight import Wear
from drills.game.fit.setup import SetUp
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence

SCHEMA = 1
Plain = dict[str, Any]
# Schema → function to the next one; 1 is the first.
STEPS: dict[int, Callable[[Plain], Plain]] = {}


class UnreadableSetUp(ValueError):
    """Plain data that is no set-up of a schema that is known here; the text says why."""


@dataclass(frozen=True, slots=True)
class KeptSetUp:
    """A set-up, what each of its grids wears, and the version of the engine that answered. It is never answered anew."""

    setup: SetUp
    bibs: tuple[Wear, ...] = ()
    engine: int = 0


def as_plain(kept: KeptSetUp) -> Plain:
    """Plain data, with the schema that it is written in."""
    plain: Plain = msgspec.to_builtins(kept)
    return {"schema": SCHEMA, **plain}


def from_plain(plain: Plain) -> KeptSetUp:
    """What `as_plain` wrote, brought up from an older schema. Raises UnreadableSetUp."""
    schema = plain.get("schema")
    while isinstance(schema, int) and schema in STEPS:
        plain, schema = STEPS[schema](plain), schema + 1
    if schema != SCHEMA:
        raise UnreadableSetUp(text_of(Sentence("setup_unknown_schema", {"schema": str(schema)})))
    try:
        return msgspec.convert(plain, KeptSetUp)
    except msgspec.ValidationError as error:
        raise UnreadableSetUp(str(error)) from error
