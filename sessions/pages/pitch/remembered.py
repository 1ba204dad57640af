"""What was worked out for a phone, remembered: a pinned revision never changes, and phones ask again and again.

Kept in the process that answers, by the document's digest and everything else that the answer depends on.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from club.caches import MIB, remembered
from drills.game.document import DrillDocument
from drills.game.fit import SetUp, fit
from drills.game.playable import design_of
from drills.queries import StationDrill

# Players, goalkeepers (None: whoever will), adults (None: as many as it needs), length and width in metres.
Asked = tuple[int, int | None, int | None, float, float]


@dataclass(frozen=True)
class Played:
    """A rung of a pinned drill. The digest is the document's identity; the document itself rides along."""

    sha256: str
    key: str
    document: DrillDocument = field(compare=False, repr=False)

    @classmethod
    def of(cls, drill: StationDrill, key: str) -> "Played":
        return cls(drill.sha256, key, drill.document)


def _best_key(played: Played, *asked: Any, **more: Any) -> tuple[Any, ...]:
    return played.sha256, played.key, asked, tuple(sorted(more.items()))


@remembered(most_bytes=6 * MIB, key=_best_key)
def best(
    played: Played,
    players: int,
    keepers: int | None,
    adults: int | None,
    length_m: float,
    width_m: float,
    numbers: str = "",
) -> SetUp | None:
    """The set-up that fits a rung best, or None; with `numbers` the best of those. Without a number of adults there are
    as many as it needs."""
    design = design_of(played.document, played.key)
    enough = max(1, design.adults_needed) if adults is None else adults
    found = fit(design, players=players, keepers=keepers, adults=enough, length_m=length_m, width_m=width_m)
    return next((each for each in found if not numbers or each.numbers == numbers), None)


def asked_of(setup_input: Mapping[str, Any]) -> Asked:
    """What a set-up was accepted for, in the order that `best` takes it."""
    return (
        setup_input["players"],
        setup_input.get("keepers"),
        setup_input.get("adults", 1),
        float(setup_input["length_m"]),
        float(setup_input["width_m"]),
    )
