"""Ways to run a drill tonight, from Fit: worked out once for all drills with the same numbers in the same grid."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from club.caches import MIB, is_remembered, remembered
from drills.game.design import Design
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fit.kit import kit_list
from drills.game.fit.rules import GRIDS_PER_ADULT, YOUNGEST_UNDER, is_under, rules_for
from drills.game.fits import fits_design
from drills.game.format import Format
from drills.queries import OfferedRung
from sessions.planning.assemble import Way

MOST_WAYS = 2
# Of the youngest, few round each ball before the design's own numbers: common practice, no source.
SMALLEST_UNDER, MANY_WAYS = 8, 12
MOST_BYTES = 48 * MIB  # 30,000 rungs; only the worker fills it


@dataclass(frozen=True, slots=True)
class _Run:
    """One answer of Fit without what belongs to a single drill: its kit and its words."""

    numbers: str
    formats: tuple[Format, ...]
    sizes: tuple[tuple[float, float], ...]
    long_m: float
    wide_m: float
    playing_share: float
    distance: float


def is_at_hand(rung: OfferedRung, evening: Evening) -> bool:
    """Whether ways are remembered, so that Fit need not be asked."""
    return is_remembered(_runs, rung, evening)


def ways_of(rung: OfferedRung, evening: Evening) -> tuple[Way, ...]:
    """The nearest ways to run a rung with tonight's players in tonight's space, and one that the kit there is allows."""
    ways = [_way(rung.design, run, evening) for run in _runs(rung, evening)]
    if evening.kit and not any(_kit_is_there(way, evening.kit) for way in ways):
        ways += [_way(rung.design, _run(each), evening) for each in _fitted(rung.design, evening)]
    return tuple(ways)


def way_of(design: Design, found: SetUp, evening: Evening) -> Way:
    """One answer of Fit as a way."""
    return _way(design, _run(found), evening)


def _key(rung: OfferedRung, evening: Evening) -> tuple[object, ...]:
    """Without the kit: each drill has its own, and what is there is looked at afterwards."""
    ages = rung.design.under_from, rung.design.under_to
    return rung.footprint, ages, replace(evening, kit={}).fit_key()


# For the life of the process: pure, so it never grows stale; a footprint's name holds Fit's version.
@remembered(most_bytes=MOST_BYTES, key=_key)
def _runs(rung: OfferedRung, evening: Evening) -> tuple[_Run, ...]:
    """What Fit answers for all drills with these numbers in this grid."""
    return tuple(map(_run, _fitted(rung.design, replace(evening, kit={}))))


def is_between_sides(design: Design) -> bool:
    """Whether a drill is a game between sides that are alike, in which nobody queues: none twice as many as another."""
    sides = [each.players for each in design.format.sides]
    return design.format.has_opponents and design.waiting_kind != "queue" and 2 * min(sides) >= max(sides)


def _fitted(design: Design, evening: Evening) -> Sequence[SetUp]:
    """The nearest answers of Fit; in games of the youngest those with the fewest round each ball, for many touches."""
    if not (design.sides_by_age and is_under(evening.ages, SMALLEST_UNDER)):
        return fits_design(design, evening, most=MOST_WAYS, remember=False).setups
    found = fits_design(design, evening, most=MANY_WAYS, remember=False).setups
    fewest = min(map(_most_in_a_grid, found), default=0)
    return [each for each in found if _most_in_a_grid(each) == fewest][:MOST_WAYS]


def _most_in_a_grid(found: SetUp) -> int:
    """Floaters count: 2v2 with two of them is no smaller a game than 3v3."""
    return max(fmt.players for fmt in found.grid_formats)


def _run(found: SetUp) -> _Run:
    along, across = found.extent_m
    return _Run(
        numbers=found.numbers,
        formats=found.grid_formats,
        sizes=found.grid_sizes,
        long_m=along,
        wide_m=across,
        playing_share=(found.players_total - found.waiting) / found.players_total,
        distance=found.distance,
    )


def _way(design: Design, run: _Run, evening: Evening) -> Way:
    return Way(
        players=evening.players,
        format=run.numbers,
        length_m=run.long_m,
        width_m=run.wide_m,
        grids=len(run.formats),
        adults=_adults(design, evening, len(run.formats)),
        kit=kit_list(design, run.formats, turns_in_goal=rules_for(design, evening).turns_in_goal),
        playing_share=run.playing_share,
        off_by_plan=design.may_wait,
        distance=run.distance,
        grid_m=run.sizes[0],
        cones=" ".join(f"{length:g}x{width:g}" for length, width in run.sizes),
    )


def _adults(design: Design, evening: Evening, grids: int) -> int:
    """Helpers at every grid, and an adult for every two grids of the youngest; never more than there are, as Fit has it."""
    needed = design.adults_needed + (grids - 1) * max(0, design.adults_needed - 1)
    if is_under(evening.ages, YOUNGEST_UNDER):
        needed = max(needed, math.ceil(grids / GRIDS_PER_ADULT))
    return min(needed, evening.adults_for(design.adults_needed))


def _kit_is_there(way: Way, stock: Mapping[str, int]) -> bool:
    return all(count <= stock.get(kind, count) for kind, count in way.kit.items())
