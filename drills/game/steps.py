"""Easier and harder, one step at a time and back to the drill as written: the same on drill page, pitch, sheet and API.

A document lists its easier variations from the nearest to the easiest, its harder ones from the nearest to the hardest;
the drill as written, whose key is "", stands between them. A variation that leads sideways stands beside the drill as
written: its steps are that one's, and back leads to it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drills.game.document.choices import Rung
from drills.game.document.drill import DrillDocument
from drills.game.variations import find

AS_WRITTEN = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Where one can go from a rung, by key: the next easier and the next harder one, and back to the drill as written.

    None: there is nothing easier, nothing harder, or it is the drill as written already.
    """

    easier: str | None
    harder: str | None
    back: str | None

    @property
    def straight_back(self) -> str | None:
        """The way back where it is no step: None where easier or harder leads there, and from the drill as written."""
        return None if self.back in (self.easier, self.harder) else self.back


def in_order(document: DrillDocument) -> tuple[str, ...]:
    """The keys of a drill's rungs from the easiest to the hardest, the drill as written among them; none that leads sideways."""
    return ordered((each.key, each.rung) for each in document.variations)


def ordered(rungs: Iterable[tuple[str, Rung]]) -> tuple[str, ...]:
    """The same of keys with their ways, in the order in which the document lists them."""
    by_way: dict[Rung, list[str]] = {way: [] for way in Rung}
    for key, way in rungs:
        by_way[way].append(key)
    return (*reversed(by_way[Rung.EASIER]), AS_WRITTEN, *by_way[Rung.HARDER])


def steps(document: DrillDocument, key: str) -> Steps:
    """The steps from a rung. Raises KeyError for a key that the drill does not have."""
    now = find(document, key)
    return steps_in(in_order(document), AS_WRITTEN if now is None else now.key)


def steps_in(keys: tuple[str, ...], key: str) -> Steps:
    """The steps from a rung of `ordered` keys; one that is not among them leads sideways."""
    at = keys.index(key if key in keys else AS_WRITTEN)
    return Steps(
        easier=keys[at - 1] if at > 0 else None,
        harder=keys[at + 1] if at + 1 < len(keys) else None,
        back=None if key == AS_WRITTEN else AS_WRITTEN,
    )
