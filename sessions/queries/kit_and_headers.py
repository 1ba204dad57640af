"""What a station takes and heads, as its drill is run: for whoever shows nothing else of it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from club.caches import MIB, remembered
from drills.game.document import decode
from sessions import bridge


@dataclass(frozen=True, slots=True)
class KitAndHeaders:
    """Kit by kind, bibs among it, and headers of a player."""

    kit: Mapping[str, int]
    headers: int


def kit_and_headers_of(row: Mapping[str, Any]) -> KitAndHeaders:
    """Of a station with a drill, from a plain row (`rows.PLAYED`): as it is set up, else as its drill is written."""
    kept = bridge.kept_of(row["setup"], row["evening"]).setup
    return _worked_out(row["sha256"], row["document"], row["key"], row["setup"] if kept else None)


def _key(
    sha256: str, _document: dict[str, Any], rung: str, setup: Mapping[str, Any] | None
) -> tuple[str, str, str]:
    """A pinned revision never changes: its digest stands for its document."""
    return sha256, rung, json.dumps(setup, sort_keys=True)


@remembered(most_bytes=MIB // 2, key=_key)
def _worked_out(
    sha256: str, document: dict[str, Any], rung: str, setup: Mapping[str, Any] | None
) -> KitAndHeaders:
    run = bridge.as_kept(decode(document), rung, setup)
    return KitAndHeaders(run.kit, run.document.headers_planned)
