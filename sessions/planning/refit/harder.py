"""A session again with one of its parts one step harder."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from drills.game.variations import played
from sessions.planning.numbers import CR10_HIGHEST
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit.carry import carry
from sessions.planning.refit.model import Refit, StationToReuse, Target
from sessions.planning.refit.rungs import one_up


@dataclass(frozen=True, slots=True)
class HarderStep:
    """The stations with one of them one step up, how all parts are fitted with it, and the step in words."""

    stations: tuple[StationToReuse, ...]
    parts: tuple[Refit, ...]
    said: PlanningReason


def one_harder(stations: Sequence[StationToReuse], keys: Iterable[str], target: Target) -> HarderStep | None:
    """The first of the stations that `keys` name whose next step up runs there; None where none does.

    A step counts only where it stands once all is fitted: one that would be too hard for the group, ask for more headers
    than it may have, or not fit the ground is no step up.
    """
    by_key = {each.key: place for place, each in enumerate(stations)}
    for key in keys:
        place = by_key[key]
        found = _raised(stations[place])
        if found is None:
            continue
        raised, said = found
        tried = (*stations[:place], raised, *stations[place + 1 :])
        parts = carry(tried, target)
        there = next(each for part in parts for each in part.stations if each.key == key)
        if there.variation_key == raised.variation_key and not there.is_out:
            return HarderStep(tried, parts, said)
    return None


def _raised(station: StationToReuse) -> tuple[StationToReuse, PlanningReason] | None:
    """A station one step up, its part's effort higher by as much as the drill says; None at the top."""
    document = station.document
    up = None if document is None or station.gone else one_up(document, station.variation_key)
    if document is None or up is None:
        return None
    key, title = ("", document.title) if isinstance(up, str) else (up.key, up.title)
    more = played(document, key).work.effort - played(document, station.variation_key).work.effort
    cr10 = min(CR10_HIGHEST, max(0.0, station.cr10 + more))
    said = reason("carry_rung_up", title=station.title, rung=title)
    return replace(station, variation_key=key, cr10=cr10), said
