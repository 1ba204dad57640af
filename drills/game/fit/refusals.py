"""Why nothing fits: each cause with its amount, and what would clear it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from drills.game.design import Design
from drills.game.evening import Evening, Piece
from drills.game.fit.arrays import least_margins_m, pairs
from drills.game.fit.kit import kit_list, shortages
from drills.game.fit.rules import MOST_GRIDS, rules_for
from drills.game.fit.search import FoundSetUp, SetUpSearch
from drills.game.reasons import ChangeClass, Parameter, Reason
from drills.game.space import LONGEST_M, STRIP_LEAST_M, nearest_grid
from drills.game.wording.shapes import Sentence

ALL = 10_000  # more than any turn-out has
SOME = 100
AMPLE = Piece("", 4.0 * LONGEST_M, 4.0 * LONGEST_M)


def refusals(design: Design, tonight: Evening) -> tuple[Reason, ...]:
    """All causes that stand on their own; at least one, for a turn-out that nothing fits."""
    causes = [*wrong_age(design, tonight), *_numbers(design, tonight)]
    if causes:
        return tuple(causes)
    ample = _any(design, replace(tonight, pieces=(AMPLE,), kit={}))
    if not ample:
        return (_between(design, tonight),)
    here = _any(design, replace(tonight, kit={}))
    if here:
        return (_kit(design, tonight, here),)
    return (_space(design, tonight, ample), *_waiting(design, tonight))


def _any(design: Design, tonight: Evening) -> list[FoundSetUp]:
    """Candidates to measure what is missing by: all single grids; where one is not enough, the nearest others."""
    search = SetUpSearch(design, tonight)
    return search.found(ALL, most_grids=1) or search.found(SOME)


def _refusal(key: str, said: Sentence, change_class: ChangeClass, **params: Parameter) -> Reason:
    return Reason(key, said, change_class, params, weight="refusal")


def _said(key: str, change_class: ChangeClass, **params: Parameter) -> Reason:
    """A refusal whose sentence has its key and says its parameters."""
    return _refusal(key, Sentence(key, params), change_class, **params)


def wrong_age(design: Design, tonight: Evening) -> Iterator[Reason]:
    """A reason where tonight's players are all younger, or all older, than the drill is for; none where no ages are known."""
    if tonight.ages is None:
        return
    low, high = tonight.ages.under_low, tonight.ages.under_high
    if design.under_from is not None and high is not None and high < design.under_from:
        yield _said("too_young", "people", least=design.under_from)
    if design.under_to is not None and low > design.under_to:
        yield _said("too_old", "people", most=design.under_to)


def _numbers(design: Design, tonight: Evening) -> Iterator[Reason]:
    least = design.least_players
    if tonight.players < least:
        yield _said("too_few", "people", least=least, players=tonight.players)


def _between(design: Design, tonight: Evening) -> Reason:
    """Enough players, but no numbers near the design come out of them, or there are more than the grids hold."""
    adults = tonight.adults_for(design.adults_needed)
    ample = replace(tonight, pieces=(AMPLE,), kit={}, adults=max(adults, MOST_GRIDS))
    more = SetUpSearch(design, ample).found(SOME)
    if waiting := _waiting(design, ample) if not more else ():
        return waiting[0]
    if more:
        grids = min(len(found.formats) for found in more)
        said = Sentence("adults_for_grids", {"grids": Sentence("grids", {"n": grids})})
        return _refusal("adults_for_grids", said, "people", grids=grids, adults=adults)
    said = Sentence("no_such_numbers", {"players": tonight.players, "format": str(design.format)})
    return _refusal("no_such_numbers", said, "people", players=tonight.players)


def _waiting(design: Design, tonight: Evening) -> tuple[Reason, ...]:
    """How many would be off where anybody may be; nothing where that makes no difference."""
    anybody = replace(rules_for(design, tonight), off=1.0)
    found = SetUpSearch(design, replace(tonight, kit={}), rules=anybody).found(SOME)
    if not found:
        return ()
    off, players = min(each.split.waiting for each in found), tonight.players
    return (_said("would_wait", "people", off=off, players=players),)


def _space(design: Design, tonight: Evening, ample: list[FoundSetUp]) -> Reason:
    """The least free space that any of the numbers could be played in, in the design's shape."""
    best: tuple[float, float, float, str] | None = None
    for found in ample:
        if len(found.formats) > 1:
            continue
        length, width = _least_free(design, tonight, found)
        if best is None or length * width < best[0]:
            best = (length * width, length, width, str(found.formats[0]))
    if best is None:
        return _refusal("too_little_space", Sentence("no_single_grid", {"players": tonight.players}), "space")
    _, length, width, numbers = best
    said = Sentence("too_little_space", {"format": numbers, "length": length, "width": width})
    return _refusal("too_little_space", said, "space", length_m=length, width_m=width, format=numbers)


def _least_free(design: Design, tonight: Evening, found: FoundSetUp) -> tuple[float, float]:
    fmt = found.formats[0]
    edges = design.edges(fmt)
    # A few per cent over the least area, so that rounding to whole metres does not fall under it.
    grid = nearest_grid(design.tightest_area_m2(fmt) * 1.05, design.ratio, LONGEST_M, LONGEST_M)
    if grid is None:
        return float(LONGEST_M), float(LONGEST_M)
    ends, sides = pairs(edges)
    along, across = least_margins_m(tonight.ground[0], rules_for(design, tonight).shots)
    length = grid.length_m + STRIP_LEAST_M * ends + along
    return math.ceil(length), math.ceil(grid.width_m + STRIP_LEAST_M * sides + across)


def _kit(design: Design, tonight: Evening, here: list[FoundSetUp]) -> Reason:
    """The candidate that lacks least."""
    turns = rules_for(design, tonight).turns_in_goal
    kits = [kit_list(design, found.formats, turns_in_goal=turns) for found in here]
    lacks = [shortages(kit, tonight.kit) for kit in kits]
    least = min(lacks, key=lambda lack: (sum(lack.values()), sorted(lack)))
    return too_little_kit(least)


def too_little_kit(lack: Mapping[str, int]) -> Reason:
    """The refusal for want of kit. `lack` is kind → how many are missing."""
    short = tuple(Sentence("kit_short", {"kind": kind, "count": count}) for kind, count in lack.items())
    return _refusal("too_little_kit", Sentence("too_little_kit", {"kit": short}), "equipment", **lack)
