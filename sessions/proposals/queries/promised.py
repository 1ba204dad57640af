"""The set-ups that a proposal chose, kept whole with their evenings: what its page shows is what its session gets."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from drills.game.evening import Evening, UnreadableEvening, from_plain
from drills.game.fit import serialize
from drills.game.fits import fits
from drills.game.played import Played, as_played
from drills.queries import StationDrill
from sessions.bridge import evening_as_kept, setup_as_kept

Facts = Mapping[str, Any]
# Of a station of a proposal, beside its drill and rung: {"setup", "evening", "revision"}, the number of the drill's.
KEPT = "set_up"


@dataclass(frozen=True)
class Promised:
    """A station's set-up as it was proposed. `setup` is None where it can't be had any more, `lost` where it can't be read."""

    setup: serialize.KeptSetUp | None = None
    evening: Evening | None = None
    lost: bool = False

    def tonight(self, drill: StationDrill, rung: str) -> Played:
        """The drill as it is run with it; as it is written without."""
        if self.setup is None or self.evening is None:
            return as_played(drill.document, rung)
        serialize = self.setup
        return as_played(drill.document, rung, serialize.setup, serialize.bibs, players=self.evening.ages)


def has_rung(drill: StationDrill, rung: str) -> bool:
    return not rung or any(each.key == rung for each in drill.document.variations)


def promise(station: Facts, drill: StationDrill | None, evening: Evening) -> dict[str, Any]:
    """A station with the set-up that its numbers stand for, whole; with none where its drill doesn't have it (any more)."""
    found = None
    if drill is not None and has_rung(drill, station["rung"]):
        found = fits(drill.document, station["rung"], evening).find(station["numbers"], station["grids"])
    if drill is None or found is None:
        return {**station, KEPT: None}
    whole = {
        "setup": setup_as_kept(found, drill.document, station["rung"], evening),
        "evening": evening_as_kept(found, evening),
        "revision": drill.revision_number,
    }
    length_m, width_m = found.grid_sizes[0]
    return {**station, "length_m": length_m, "width_m": width_m, KEPT: whole}


def promised(station: Facts, drill: StationDrill | None) -> Promised:
    """What `promise` kept; nothing of it where the drill was changed so that it would be run otherwise."""
    try:
        whole = station[KEPT]
        if whole is None or drill is None or not has_rung(drill, station["rung"]):
            return Promised()
        setup, evening = serialize.from_plain(whole["setup"]), from_plain(whole["evening"])
    except (serialize.UnreadableSetUp, UnreadableEvening, KeyError, TypeError):
        return Promised(lost=True)  # written by another version
    if whole["revision"] != drill.revision_number:
        again = fits(drill.document, station["rung"], evening).find(setup.setup.numbers, setup.setup.grids)
        if again != setup.setup:
            return Promised()
    return Promised(setup, evening)


def stations_kept(part: Facts) -> Iterator[Facts]:
    """Each station of a proposed part, as it was kept: what everybody plays, and the keepers' where they are apart."""
    yield part
    if part.get("keepers"):
        yield part["keepers"]
