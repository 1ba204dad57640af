"""What shares of a turn-out need: the smallest free rectangles, put together from crews, grids and arrays."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from drills.game.design import Design
from drills.game.evening import Evening, Piece
from drills.game.fit.arrays import Shots, arrays, gaps_m, pairs
from drills.game.fit.candidates import NumberBounds, crowds
from drills.game.fit.kit import goals_missing
from drills.game.fit.rules import MOST_SMALL_GRIDS, Rules, rules_for
from drills.game.fit.search import SetUpSearch, Shared, shares
from drills.game.minimal_rectangles import (
    CM,
    Array,
    MinimalRectangles,
    all_hold,
    free_for,
    grids_cm,
    holding_any,
    holding_each,
    smallest,
    up_cm,
)
from drills.game.space import LONGEST_M, STRIP_LEAST_M

_AMPLE = Piece("", LONGEST_M * 10.0, LONGEST_M * 10.0)

# Outfield players and keepers of one grid.
Crew = tuple[int, int]


def needed(found: dict[str, MinimalRectangles]) -> dict[str, MinimalRectangles]:
    """Without rooms that others hold which need some of the same grids only, and so no more kit."""
    return {
        missing: corners
        for missing, corners in found.items()
        if not any(
            fewer != missing and not Counter(fewer) - Counter(missing) and all_hold(corners, of_fewer)
            for fewer, of_fewer in found.items()
        )
    }


class ShareNeeds:
    """What shares of a turn-out need, remembered over all turn-outs of one design.

    Most regions come again and again under other bounds. They live as long as this does, so that what is made from
    them is remembered by their addresses: to compare regions would cost more than to make them.
    """

    def __init__(self, design: Design) -> None:
        self.design = design
        self._of_geometry: dict[_Geometry, _Under] = {}
        self._of_crowd: dict[tuple[int, bool], MinimalRectangles] = {}
        self._of_crew: dict[tuple[Crew, NumberBounds, float | None], MinimalRectangles] = {}
        self._in_array: dict[tuple[frozenset[int], int], MinimalRectangles] = {}
        self._joined: dict[frozenset[int], MinimalRectangles] = {}
        self._shares: dict[tuple[object, ...], list[list[Shared]]] = {}
        sides = [side.players for side in design.format.sides]
        self._uneven = max(sides) - min(sides) + 2  # by so many may two sides differ, a keeper among them
        shots = rules_for(design, Evening(1)).shots
        self._arrays = {grids: _arrays(shots, grids) for grids in range(1, MOST_SMALL_GRIDS + 1)}

    def of_turn_out(
        self, rules: Rules, steps: tuple[int, ...], players: int, keepers: int | None
    ) -> dict[tuple[int, bool], MinimalRectangles]:
        """Free rectangles for everyone who came, over all ways to share them out, by the most grids and whether nobody is off."""
        runs: list[MinimalRectangles] = []
        all_play: list[MinimalRectangles] = []
        found: dict[tuple[int, bool], MinimalRectangles] = {}
        under = self._under(rules)
        shares_ = self._shared(rules, players, keepers)
        for grids in range(1, steps[-1] + 1):
            for shared in shares_[grids - 1]:
                runs += under.window(shared.keepers, shared.outfield, _off(shared) + 1)
                if not shared.serving:
                    all_play += under.window(shared.keepers, shared.outfield, 1)
            if grids in steps:
                found[grids, False], found[grids, True] = self.any_of(runs), self.any_of(all_play)
        return found

    def of_turn_out_by_kit(
        self, rules: Rules, players: int, keepers: int | None
    ) -> dict[str, MinimalRectangles]:
        """The first of these by the goals that nobody keeps in each grid, where no fewer grids would do."""
        found: dict[str, list[MinimalRectangles]] = {}
        under, shares_ = self._under(rules), self._shared(rules, players, keepers)
        for shared in (each for of_grids in shares_[: rules.most_grids] for each in of_grids):
            turns = rules.turns_in_goal  # every goal is kept by somebody
            missing = sorted(
                0 if turns else goals_missing(self.design.format, each) for each in shared.keepers
            )
            corners = under.window(shared.keepers, shared.outfield, _off(shared) + 1)
            found.setdefault("".join(map(str, missing)), []).extend(corners)
        joined = {missing: self.any_of(several) for missing, several in found.items()}
        return needed({missing: corners for missing, corners in joined.items() if corners})

    def _shared(self, rules: Rules, players: int, keepers: int | None) -> list[list[Shared]]:
        """Every way to put the keepers in goal, by grids: bounds of numbers have no say in it."""
        key = rules.turns_in_goal, rules.waiting, rules.off, players, keepers
        if key not in self._shares:
            evening = Evening(players, keepers, pieces=(_AMPLE,))
            search = SetUpSearch(self.design, evening, rules=rules)
            self._shares[key] = [list(search.shared(grids)) for grids in range(1, MOST_SMALL_GRIDS + 1)]
        return self._shares[key]

    def _under(self, rules: Rules) -> _Under:
        geometry = rules.bounds, rules.area_most_m2
        if geometry not in self._of_geometry:
            self._of_geometry[geometry] = _Under(self, *geometry)
        return self._of_geometry[geometry]

    def any_of(self, regions: Iterable[MinimalRectangles]) -> MinimalRectangles:
        """`holding_any`, worked out once for the same sets."""
        several = {id(each): each for each in regions if each}
        if len(several) < 2:
            return next(iter(several.values()), ())
        key = frozenset(several)
        if key not in self._joined:
            self._joined[key] = holding_any(several.values())
        return self._joined[key]

    def in_array(self, places: list[MinimalRectangles]) -> MinimalRectangles:
        """Free rectangles, longer side first, in centimetres, that hold an array with one grid in each of these places."""
        key = frozenset(map(id, places)), len(places)
        if key not in self._in_array:
            each = list({id(place): place for place in places}.values())
            together = each[0] if len(each) == 1 else holding_each(each)
            self._in_array[key] = smallest(free_for(together, self._arrays[len(places)]))
        return self._in_array[key]

    def crew(self, crew: Crew, bounds: NumberBounds, area_most_m2: float | None) -> MinimalRectangles:
        """Places that one grid with these players may take, in centimetres along its length and across, with its strips.

        None where the drill can't be played with so many.
        """
        design, (outfield, keepers) = self.design, crew
        players = outfield + keepers
        if bounds.side_most is not None and players <= 2 * bounds.side_most - self._uneven:
            bounds = replace(bounds, side_most=None)  # no side of so few is larger
        key = crew, bounds, area_most_m2
        if key not in self._of_crew:
            made: MinimalRectangles = ()
            if design.least_players <= players <= (design.max_players or players):
                made = self.any_of(
                    self._crowd(counted, outside)
                    for counted, outside in self._worth_a_look(crew, bounds)
                    if area_most_m2 is None or design.tightest_for_m2(counted) <= area_most_m2 * players
                )
            self._of_crew[key] = made
        return self._of_crew[key]

    def _worth_a_look(self, crew: Crew, bounds: NumberBounds) -> set[tuple[int, bool]]:
        """(players counted, anyone outside): the fewest take the least room, and the design's own number keeps its grid."""
        design, (outfield, keepers) = self.design, crew
        own, everyone = design.counted(design.format), design.counts_everyone
        counted: dict[bool, set[int]] = {}
        for inside, outside in crowds(design.format, outfield, keepers, bounds):
            count = inside + outside * everyone or outfield + keepers
            counted.setdefault(outside > 0, set()).add(count)
        return {
            (count, outside) for outside, all_ in counted.items() for count in {min(all_), *({own} & all_)}
        }

    def _crowd(self, counted: int, outside: bool) -> MinimalRectangles:
        """Grids for so many players that count, with the strips of those outside."""
        if (counted, outside) not in self._of_crowd:
            design = self.design
            grids = grids_cm(design.tightest_for_m2(counted), design.ratio)
            if not design.area_matters or counted == design.counted(design.format):
                grids += ((up_cm(design.length_m), up_cm(design.width_m)),)
            ends, sides = strips_cm(design) if outside else (0, 0)
            self._of_crowd[counted, outside] = smallest((long + ends, wide + sides) for long, wide in grids)
        return self._of_crowd[counted, outside]


def _off(shared: Shared) -> int:
    return max(shared.most_waiting, shared.most_off)


# What of the rules decides about room: the others say how many grids there are, and how many are off.
_Geometry = tuple[NumberBounds, float | None]


class _Under:
    """The places of a design under bounds of numbers and area."""

    def __init__(self, places: ShareNeeds, bounds: NumberBounds, area_most_m2: float | None) -> None:
        self.places, self.design = places, places.design
        self._bounds, self._area_most_m2 = bounds, area_most_m2
        self._of_crew: dict[Crew, MinimalRectangles] = {}
        self._of_blocks: dict[tuple[tuple[int, ...], int, int], MinimalRectangles] = {}

    def window(self, keepers: tuple[int, ...], outfield: int, many: int) -> Iterator[MinimalRectangles]:
        """For so many counts of outfield players down from this one: two blocks that overlap cover them all."""
        if many < 1:
            return  # fewer came than keep goal
        block = 1 << (many.bit_length() - 1)
        yield self._block(keepers, outfield, block)
        if block < many:
            yield self._block(keepers, outfield - many + block, block)

    def _block(self, keepers: tuple[int, ...], outfield: int, many: int) -> MinimalRectangles:
        """For a power of two of counts of outfield players down from this one: halves come back in other turn-outs."""
        key = (keepers, outfield, many)
        if key not in self._of_blocks:
            if many == 1:
                made = self._played(keepers, outfield)
            else:
                half = many // 2
                made = self.places.any_of(
                    self._block(keepers, start, half) for start in (outfield, outfield - half)
                )
            self._of_blocks[key] = made
        return self._of_blocks[key]

    def _played(self, keepers: tuple[int, ...], outfield: int) -> MinimalRectangles:
        """For exactly so many who play."""
        sizes = shares(outfield, len(keepers))
        if sizes is None:
            return ()
        return self.places.in_array([self._crew(crew) for crew in zip(sizes, keepers, strict=True)])

    def _crew(self, crew: Crew) -> MinimalRectangles:
        if crew not in self._of_crew:
            self._of_crew[crew] = self.places.crew(crew, self._bounds, self._area_most_m2)
        return self._of_crew[crew]


def _arrays(shots: Shots, grids: int) -> list[Array]:
    """Every way to lay so many grids, with the gaps in centimetres."""
    found = []
    for columns, rows in arrays(grids):
        gap, across = gaps_m(shots, columns, rows)
        found.append((columns, rows, gap * CM, across * CM))
    return found


def strips_cm(design: Design) -> tuple[int, int]:
    """Centimetres that outside players need (beyond both end lines together, beyond both touchlines together)."""
    ends, sides = pairs(design.edges_of_outside())
    return int(ends * STRIP_LEAST_M * CM), int(sides * STRIP_LEAST_M * CM)
