"""The smallest free rectangles that a drill can be run in, for every turn-out: what a library search looks up.

`fit` asks "does it work here?"; this answers for all rectangles at once. How much room numbers take depends on how many
are inside and whether anyone stands outside alone, so the smallest places are listed, not searched, and what one turn-out
needs is put together from what every share of it needs.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations_with_replacement

from drills.game.corners import (
    CM,
    Corners,
    all_hold,
    free_for,
    grids_cm,
    holding_any,
    holding_each,
    smallest,
    up_cm,
)
from drills.game.design import Design
from drills.game.fit.candidates import crowds
from drills.game.fit.kit import goals_missing
from drills.game.fit.search import MOST_GRIDS, Search, enough_adults, shares
from drills.game.fit.tonight import Tonight
from drills.game.fit.weights import DEFAULT_WEIGHTS
from drills.game.format import MOST_PLAYERS
from drills.game.space import LONGEST_M, STRIP_LEAST_M, FreeSpace

ENGINE_VERSION = 5  # rises with any change of what `fit` answers or rungs keep; older rows are rebuilt
MOST_KEEPERS = 3
ANY_NUMBER = 0  # stands for "however many come"
_AMPLE = FreeSpace(LONGEST_M * 10.0, LONGEST_M * 10.0)

# Outfield players and keepers of one grid.
Crew = tuple[int, int]
# Players → bits of keepers → what they need.
_Table = dict[int, dict[int, Corners]]


@dataclass(frozen=True, slots=True)
class Rooms:
    """The smallest free rectangles for one turn-out: `longs_cm` rise while `shorts_cm` fall.

    A free space holds the drill when one pair fits into it, longer side to longer side. `players` is ANY_NUMBER for what
    some turn-out or other needs. `keepers` has the bits (`keepers_bit`) of all answers about keepers that this is for.
    """

    players: int
    keepers: int
    longs_cm: tuple[int, ...]
    shorts_cm: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class RoomsWithKit:
    """As `Rooms`, for so many grids: `missing` has a digit for each, of the keepers' goals in it that nobody keeps.

    The digits rise. What stands on the grids follows from them (`drills.game.fit.kit.standing_kit`). Where fewer grids of the
    same kind do with no more room, there are no rows: those need less kit.
    """

    missing: str
    players: int
    keepers: int
    longs_cm: tuple[int, ...]
    shorts_cm: tuple[int, ...]


MISSING = tuple(
    "".join(digits)
    for grids in range(1, MOST_GRIDS + 1)
    for digits in combinations_with_replacement("012", grids)
)


def keepers_bit(keepers: int | None) -> int:
    """The bit for so many named keepers; None is "anyone may be asked"."""
    return 1 if keepers is None else 2 << keepers


EVERY_KEEPERS_BIT = sum(keepers_bit(each) for each in (None, *range(MOST_KEEPERS + 1)))


def fingerprint(design: Design, most_players: int = MOST_PLAYERS) -> str:
    """Designs with the same one have the same `rooms`: kit, bibs, ages and words play no part in them."""
    facts = (
        *(ENGINE_VERSION, most_players, design.format, design.length_m, design.width_m),
        *(design.anyone_can_join, design.least_players, design.max_players, design.planned_waiting),
        *(design.counts_everyone, design.area_matters, design.keepers_rotate, _strips_cm(design)),
        tuple(
            grids for grids in range(1, MOST_GRIDS + 1) if enough_adults(design, _turn_out(design, 1), grids)
        ),
    )
    return hashlib.sha256(repr(facts).encode()).hexdigest()


def fingerprint_of_either(fingerprints: Iterable[str]) -> str:
    """Of `either` for designs with these; a single one's own."""
    several = sorted(set(fingerprints))
    return several[0] if len(several) == 1 else hashlib.sha256(" ".join(several).encode()).hexdigest()


def rooms(design: Design, *, most_players: int = MOST_PLAYERS, places: Places | None = None) -> list[Rooms]:
    """The smallest rooms for 1 to `most_players` players, and for any number, with as many adults as the drill needs.

    `places` of the same design, where both this and `rooms_with_kit` are asked for: most of the work is the same.
    """
    places = places or Places(design)
    found: _Table = {}
    for keepers in keepers_that_matter(design):
        bit = keepers_bit(keepers) if design.format.keepers else EVERY_KEEPERS_BIT
        of_turn_out = {
            players: places.of_turn_out(_turn_out(design, players, keepers))
            for players in range(max(1, keepers or 0), most_players + 1)
        }
        of_turn_out[ANY_NUMBER] = holding_any(of_turn_out.values())
        for players, corners in of_turn_out.items():
            found.setdefault(players, {})[bit] = corners
    return _rows(found)


def rooms_with_kit(
    design: Design, *, most_players: int = MOST_PLAYERS, places: Places | None = None
) -> list[RoomsWithKit]:
    """The smallest rooms by what has to stand on the grids, for evenings on which somebody says what kit there is."""
    places = places or Places(design)
    tables: dict[str, _Table] = {}
    for keepers in keepers_that_matter(design):
        bit = keepers_bit(keepers) if design.format.keepers else EVERY_KEEPERS_BIT
        of_any: dict[str, list[Corners]] = {}
        for players in range(max(1, keepers or 0), most_players + 1):
            found = places.of_turn_out_by_kit(_turn_out(design, players, keepers, kit={}))
            for missing, corners in found.items():
                tables.setdefault(missing, {}).setdefault(players, {})[bit] = corners
                of_any.setdefault(missing, []).append(corners)
        for missing, several in _needed({each: holding_any(all_) for each, all_ in of_any.items()}).items():
            tables.setdefault(missing, {}).setdefault(ANY_NUMBER, {})[bit] = several
    return [
        RoomsWithKit(missing, row.players, row.keepers, row.longs_cm, row.shorts_cm)
        for missing, table in sorted(tables.items())
        for row in _rows(table)
    ]


def either(several: Iterable[list[Rooms]]) -> list[Rooms]:
    """Where one at least of several designs can be run: what a drill needs for any of its rungs."""
    met: dict[tuple[int, int], set[Corners]] = {}
    for row in (row for rows in several for row in rows):
        corners = tuple(zip(row.longs_cm, row.shorts_cm, strict=True))
        for keepers in (None, *range(MOST_KEEPERS + 1)):
            if row.keepers & keepers_bit(keepers):
                met.setdefault((row.players, keepers_bit(keepers)), set()).add(corners)
    found: _Table = {}
    for (players, bit), regions in met.items():
        found.setdefault(players, {})[bit] = holding_any(regions)
    return _rows(found)


def _rows(found: _Table) -> list[Rooms]:
    """One row for all answers about keepers that come to the same; none where nothing will do."""
    rows: list[Rooms] = []
    for players, of_keepers in sorted(found.items()):
        bits: dict[Corners, int] = {}
        for bit, corners in of_keepers.items():
            bits[corners] = bits.get(corners, 0) | bit
        rows += [
            Rooms(players, bit, tuple(long for long, _ in corners), tuple(short for _, short in corners))
            for corners, bit in bits.items()
            if corners
        ]
    return rows


def keepers_that_matter(design: Design) -> tuple[int | None, ...]:
    """Where nobody keeps goal, how many keepers came changes nothing about whether the drill can be run."""
    return (None, *range(MOST_KEEPERS + 1)) if design.format.keepers else (None,)


def _turn_out(
    design: Design, players: int, keepers: int | None = None, kit: dict[str, int] | None = None
) -> Tonight:
    return Tonight(players, _AMPLE, keepers, max(1, design.adults_needed), kit)


def _needed(found: dict[str, Corners]) -> dict[str, Corners]:
    """Without rooms that others hold which need some of the same grids only, and so no more kit."""
    return {
        missing: corners
        for missing, corners in found.items()
        if not any(
            fewer != missing and not Counter(fewer) - Counter(missing) and all_hold(corners, of_fewer)
            for fewer, of_fewer in found.items()
        )
    }


class Places:
    """What shares of a turn-out need, remembered over all turn-outs of one design."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self._of_crowd: dict[tuple[int, bool], Corners] = {}
        self._of_crew: dict[Crew, Corners] = {}
        self._of_crews: dict[tuple[Crew, ...], Corners] = {}
        self._of_blocks: dict[tuple[tuple[int, ...], int, int], Corners] = {}

    def of_turn_out(self, tonight: Tonight) -> Corners:
        """Free rectangles for everyone who came, over all ways to share them out."""
        search = Search(self.design, tonight, DEFAULT_WEIGHTS)
        return holding_any(
            corners
            for grids in range(1, MOST_GRIDS + 1)
            for shared in search.shared(grids)
            for corners in self._window(shared.keepers, shared.outfield, shared.most_waiting + 1)
        )

    def of_turn_out_by_kit(self, tonight: Tonight) -> dict[str, Corners]:
        """The same by the goals that nobody keeps in each grid, where no fewer grids would do."""
        search, found = Search(self.design, tonight, DEFAULT_WEIGHTS), dict[str, set[Corners]]()
        for grids in range(1, MOST_GRIDS + 1):
            for shared in search.shared(grids):
                missing = sorted(goals_missing(self.design.format, each) for each in shared.keepers)
                corners = self._window(shared.keepers, shared.outfield, shared.most_waiting + 1)
                found.setdefault("".join(map(str, missing)), set()).update(corners)
        joined = {missing: holding_any(several) for missing, several in found.items()}
        return _needed({missing: corners for missing, corners in joined.items() if corners})

    def _window(self, keepers: tuple[int, ...], outfield: int, many: int) -> Iterator[Corners]:
        """For so many counts of outfield players down from this one: two blocks that overlap cover them all."""
        if many < 1:
            return  # fewer came than keep goal
        block = 1 << (many.bit_length() - 1)
        yield self._block(keepers, outfield, block)
        if block < many:
            yield self._block(keepers, outfield - many + block, block)

    def _block(self, keepers: tuple[int, ...], outfield: int, many: int) -> Corners:
        """For a power of two of counts of outfield players down from this one: halves come back in other turn-outs."""
        key = (keepers, outfield, many)
        if key not in self._of_blocks:
            if many == 1:
                made = self._played(keepers, outfield)
            else:
                half = many // 2
                made = holding_any(self._block(keepers, start, half) for start in (outfield, outfield - half))
            self._of_blocks[key] = made
        return self._of_blocks[key]

    def _played(self, keepers: tuple[int, ...], outfield: int) -> Corners:
        """For exactly so many who play."""
        return holding_any(
            self._crews(tuple(sorted(zip(sizes, keepers, strict=True))))
            for sizes in shares(self.design, outfield, len(keepers))
        )

    def _crews(self, crews: tuple[Crew, ...]) -> Corners:
        """Free rectangles, longer side first, that hold the grids of these crews in a row."""
        if crews not in self._of_crews:
            places = [self._crew(*crew) for crew in set(crews)]
            together = places[0] if len(places) == 1 else holding_each(places)
            self._of_crews[crews] = smallest(free_for(together, len(crews)))
        return self._of_crews[crews]

    def _crew(self, outfield: int, keepers: int) -> Corners:
        """Places (along the grid's length, and across) for one grid."""
        if (outfield, keepers) not in self._of_crew:
            design, players = self.design, outfield + keepers
            made: Corners = ()
            if design.least_players <= players <= (design.max_players or players):
                made = holding_any(self._crowd(*crowd) for crowd in self._worth_a_look(outfield, keepers))
            self._of_crew[outfield, keepers] = made
        return self._of_crew[outfield, keepers]

    def _worth_a_look(self, outfield: int, keepers: int) -> set[tuple[int, bool]]:
        """(players counted, anyone outside): the fewest take the least room, and the design's own number keeps its grid."""
        design = self.design
        own, everyone = design.counted(design.format), design.counts_everyone
        counted: dict[bool, set[int]] = {}
        for inside, outside in crowds(design.format, outfield, keepers, design.anyone_can_join):
            count = inside + outside * everyone or outfield + keepers
            counted.setdefault(outside > 0, set()).add(count)
        return {
            (count, outside) for outside, all_ in counted.items() for count in {min(all_), *({own} & all_)}
        }

    def _crowd(self, counted: int, outside: bool) -> Corners:
        if (counted, outside) not in self._of_crowd:
            design = self.design
            grids = grids_cm(design.tightest_for_m2(counted), design.ratio)
            if not design.area_matters or counted == design.counted(design.format):
                grids += ((up_cm(design.length_m), up_cm(design.width_m)),)
            ends, sides = _strips_cm(design) if outside else (0, 0)
            self._of_crowd[counted, outside] = smallest((long + ends, wide + sides) for long, wide in grids)
        return self._of_crowd[counted, outside]


def _strips_cm(design: Design) -> tuple[int, int]:
    """What outside players need at both end lines together, and at both touchlines."""
    edges = design.edges_of_outside()
    ends = ("left" in edges) + ("right" in edges)
    sides = ("top" in edges) + ("bottom" in edges)
    return int(ends * STRIP_LEAST_M * CM), int(sides * STRIP_LEAST_M * CM)
