"""Why nothing fits: each cause with its amount, and what would clear it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from drills.game.design import Design
from drills.game.fit.kit import kit_list, shortages
from drills.game.fit.search import MOST_GRIDS, Found, Search, enough_adults
from drills.game.fit.tonight import Tonight
from drills.game.fit.weights import DEFAULT_WEIGHTS
from drills.game.reasons import ChangeClass, Parameter, Reason
from drills.game.space import LONGEST_M, STRIP_LEAST_M, FreeSpace, nearest_grid
from drills.game.wording.shapes import Part, Sentence

ALL = 10_000  # more than any turn-out has
SOME = 100
AMPLE = FreeSpace(4.0 * LONGEST_M, 4.0 * LONGEST_M)


def refusals(design: Design, tonight: Tonight) -> tuple[Reason, ...]:
    """All causes that stand on their own; at least one, for a turn-out that nothing fits."""
    causes = [*_age(design, tonight), *_numbers(design, tonight), *_adults(design, tonight)]
    if causes:
        return tuple(causes)
    ample = _any(design, replace(tonight, free=AMPLE, kit=None))
    if not ample:
        return (_between(design, tonight),)
    here = _any(design, replace(tonight, kit=None))
    return (_space(design, ample, tonight.players),) if not here else (_kit(design, tonight, here),)


def _any(design: Design, tonight: Tonight) -> list[Found]:
    """Candidates to measure what is missing by: all single grids; where one is not enough, the nearest others."""
    search = Search(design, tonight, DEFAULT_WEIGHTS)
    return search.found(ALL, most_grids=1) or search.found(SOME)


def _refusal(key: str, said: Sentence, change_class: ChangeClass, **params: Parameter) -> Reason:
    return Reason(key, said, change_class, params, weight="refusal")


def _said(key: str, change_class: ChangeClass, **params: Parameter) -> Reason:
    """A refusal whose sentence has its key and says its parameters."""
    return _refusal(key, Sentence(key, params), change_class, **params)


def _age(design: Design, tonight: Tonight) -> Iterator[Reason]:
    if tonight.age is None:
        return
    if design.under_from is not None and tonight.age < design.under_from:
        yield _said("too_young", "people", least=design.under_from)
    if design.under_to is not None and tonight.age > design.under_to:
        yield _said("too_old", "people", most=design.under_to)


def _numbers(design: Design, tonight: Tonight) -> Iterator[Reason]:
    least = design.least_players
    if tonight.players < least:
        yield _said("too_few", "people", least=least, players=tonight.players)


def _adults(design: Design, tonight: Tonight) -> Iterator[Reason]:
    if not enough_adults(design, tonight, 1):
        needed = max(design.adults_needed, 1)
        parts: dict[str, Part] = {"needed": Sentence("adults", {"n": needed}), "adults": tonight.adults}
        said = Sentence("too_few_adults", parts)
        yield _refusal("too_few_adults", said, "people", needed=needed, adults=tonight.adults)


def _between(design: Design, tonight: Tonight) -> Reason:
    """Enough players, but no numbers near the design come out of them, or there are more than the grids hold."""
    more = Search(
        design,
        replace(tonight, free=AMPLE, kit=None, adults=max(tonight.adults, MOST_GRIDS)),
        DEFAULT_WEIGHTS,
    ).found(SOME)
    if more:
        grids = min(len(found.formats) for found in more)
        said = Sentence("adults_for_grids", {"grids": Sentence("grids", {"n": grids})})
        return _refusal("adults_for_grids", said, "people", grids=grids, adults=tonight.adults)
    key = "too_many" if tonight.players > design.format.players else "no_such_numbers"
    said = Sentence(key, {"players": tonight.players, "format": str(design.format)})
    return _refusal(key, said, "people", players=tonight.players)


def _space(design: Design, ample: list[Found], players: int) -> Reason:
    """The least free space that any of the numbers could be played in, in the design's shape."""
    best: tuple[float, float, float, str] | None = None
    for found in ample:
        if len(found.formats) > 1:
            continue
        length, width = _least_free(design, found)
        if best is None or length * width < best[0]:
            best = (length * width, length, width, str(found.formats[0]))
    if best is None:
        return _refusal("too_little_space", Sentence("no_single_grid", {"players": players}), "space")
    _, length, width, numbers = best
    said = Sentence("too_little_space", {"format": numbers, "length": length, "width": width})
    return _refusal("too_little_space", said, "space", length_m=length, width_m=width, format=numbers)


def _least_free(design: Design, found: Found) -> tuple[float, float]:
    fmt = found.formats[0]
    edges = design.edges(fmt)
    # A few per cent over the least area, so that rounding to whole metres does not fall under it.
    grid = nearest_grid(design.tightest_area_m2(fmt) * 1.05, design.ratio, LONGEST_M, LONGEST_M)
    if grid is None:
        return float(LONGEST_M), float(LONGEST_M)
    ends = STRIP_LEAST_M * sum(edge in edges for edge in ("left", "right"))
    sides = STRIP_LEAST_M * sum(edge in edges for edge in ("top", "bottom"))
    return math.ceil(grid.length_m + ends), math.ceil(grid.width_m + sides)


def _kit(design: Design, tonight: Tonight, here: list[Found]) -> Reason:
    """The candidate that lacks least."""
    lacks = [shortages(kit_list(design, found.formats), tonight.kit) for found in here]
    least = min(lacks, key=lambda lack: (sum(lack.values()), sorted(lack)))
    short = tuple(Sentence("kit_short", {"kind": kind, "count": count}) for kind, count in least.items())
    return _refusal("too_little_kit", Sentence("too_little_kit", {"kit": short}), "equipment", **least)
