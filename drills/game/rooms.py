"""The smallest free rectangles that a drill can be run in, for every turn-out: what a library search looks up.

`fit` asks "does it work here?"; this answers for all rectangles at once. How much room numbers take depends on how many
are inside and whether anyone stands outside alone, so the smallest places are listed, not searched, and what one turn-out
needs is put together from what every share of it needs. What ages and adults allow is told apart by classes of evenings.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from drills.game.corners import (
    CM,
    Array,
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
from drills.game.evening import Evening, Piece, Players, one_year
from drills.game.fit.arrays import Shots, arrays, gaps_m, pairs
from drills.game.fit.candidates import Bounds, crowds
from drills.game.fit.kit import goals_missing
from drills.game.fit.rules import (
    GRIDS_PER_ADULT,
    MOST_SMALL_GRIDS,
    SIDES,
    TURNS_IN_GOAL_UNDER,
    YOUNGEST_UNDER,
    Rules,
    is_under,
    rules_for,
    side_of,
)
from drills.game.fit.search import Search, Shared, shares
from drills.game.format import MOST_PLAYERS
from drills.game.space import LONGEST_M, STRIP_LEAST_M

ENGINE_VERSION = 5  # rises with any change of what `fit` answers or rungs keep; older rows are rebuilt
MOST_KEEPERS = 3
ANY_NUMBER = 0  # stands for "however many come"
_AMPLE = Piece("", LONGEST_M * 10.0, LONGEST_M * 10.0)

# Outfield players and keepers of one grid.
Crew = tuple[int, int]
# Players → bits of keepers → what they need.
_Table = dict[int, dict[int, Corners]]
# Whether everybody plays, players, bits of keepers, what they need.
_Row = tuple[bool, int, int, Corners]


@dataclass(frozen=True, slots=True)
class Rooms:
    """The smallest free rectangles for one turn-out: `longs_cm` rise while `shorts_cm` fall.

    A free space holds the drill when one pair fits into it, longer side to longer side. `players` is ANY_NUMBER for what
    some turn-out or other needs. `keepers` has the bits (`keepers_bit`) of all answers about keepers that this is for,
    `classes` those (`class_bit`) of all evenings. `all_play`: with nobody off; else with as many off as may be.
    """

    players: int
    keepers: int
    classes: int
    all_play: bool
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
    classes: int
    longs_cm: tuple[int, ...]
    shorts_cm: tuple[int, ...]


MISSING = tuple(
    "".join(digits)
    for grids in range(1, MOST_SMALL_GRIDS + 1)
    for digits in combinations_with_replacement("012", grids)
)


def keepers_bit(keepers: int | None) -> int:
    """The bit for so many named keepers; None is "anyone may be asked"."""
    return 1 if keepers is None else 2 << keepers


EVERY_KEEPERS_BIT = sum(keepers_bit(each) for each in (None, *range(MOST_KEEPERS + 1)))


# --- classes of evenings -----------------------------------------------------------------------------------------

# The bounds that ages and adults set are told apart by: the group's format, how young, and adults for the youngest.
YOUNGEST, YOUNG, OLDER = YOUNGEST_UNDER, TURNS_IN_GOAL_UNDER, 99
_MOST_ADULTS = MOST_SMALL_GRIDS // GRIDS_PER_ADULT  # more make no difference
CLASSES: tuple[tuple[int | None, int, int | None], ...] = tuple(
    (side, under, adults)
    for side in (None, *SIDES)
    for under in (YOUNGEST, YOUNG, OLDER)
    for adults in ((None, *range(1, _MOST_ADULTS + 1)) if under == YOUNGEST else (None,))
)


def class_bit(ages: Players | None, adults: int | None) -> int:
    """The bit of an evening's class."""
    side = side_of(ages.a_side) if ages is not None else None
    if not is_under(ages, TURNS_IN_GOAL_UNDER) or ages is None:
        return 1 << CLASSES.index((side, OLDER, None))
    if not is_under(ages, YOUNGEST_UNDER):
        return 1 << CLASSES.index((side, YOUNG, None))
    counted = None if adults is None else min(max(1, adults), _MOST_ADULTS)
    return 1 << CLASSES.index((side, YOUNGEST, counted))


def _evening(each: tuple[int | None, int, int | None]) -> Evening:
    side, under, adults = each
    return Evening(1, None, adults, one_year(under, side))


# Bits of classes by how many grids there may be, from the fewest.
_Steps = dict[int, int]


def _by_rules(design: Design) -> dict[Rules, _Steps]:
    """The classes that come to the same bounds but for the number of grids: those are gone through once."""
    found: dict[Rules, _Steps] = {}
    for number, each in enumerate(CLASSES):
        rules = _plain(design, rules_for(design, _evening(each)))
        steps = found.setdefault(replace(rules, most_grids=MOST_SMALL_GRIDS), {})
        steps[rules.most_grids] = steps.get(rules.most_grids, 0) | 1 << number
    return {rules: dict(sorted(steps.items())) for rules, steps in found.items()}


def _plain(design: Design, rules: Rules) -> Rules:
    """Without bounds that nothing near the design reaches, and what has no say on ground that is open all round."""
    rules = replace(rules, shots=replace(rules.shots, behind_ends_m=0, behind_sides_m=0))
    side, area = rules.bounds.side_most, rules.area_most_m2
    largest = 2 * (design.format.players_inside or design.format.players) + design.format.players_outside + 3
    if side is not None and side >= largest:
        rules = replace(rules, bounds=replace(rules.bounds, side_most=None))
    tightest = design.tightest_area_m2(design.format) / design.counted(design.format)
    if area is not None and design.area_matters and tightest <= area:
        rules = replace(rules, area_most_m2=None)
    return rules


def fingerprint(design: Design, most_players: int = MOST_PLAYERS) -> str:
    """Designs with the same one have the same `rooms`: kit, bibs, ages and words play no part in them."""
    facts = (
        *(ENGINE_VERSION, most_players, design.format, design.length_m, design.width_m),
        *(design.anyone_can_join, design.least_players, design.max_players, design.may_wait, design.work_s),
        *(design.counts_everyone, design.area_matters, design.sides_by_age, _strips_cm(design)),
        *(design.sides_fixed, design.neutrals_fixed, design.outside_fixed, tuple(sorted(design.shot_at))),
        (design.adults_needed, design.slots),
    )
    return hashlib.sha256(repr(facts).encode()).hexdigest()


def fingerprint_of_either(fingerprints: Iterable[str]) -> str:
    """Of `either` for designs with these; a single one's own."""
    several = sorted(set(fingerprints))
    return several[0] if len(several) == 1 else hashlib.sha256(" ".join(several).encode()).hexdigest()


def rooms(design: Design, *, most_players: int = MOST_PLAYERS, places: Places | None = None) -> list[Rooms]:
    """The smallest rooms for 1 to `most_players` players, and for any number, in each class of evenings.

    `places` of the same design, where both this and `rooms_with_kit` are asked for: most of the work is the same.
    """
    places, merged = places or Places(design), dict[_Row, int]()
    for rules, steps in _by_rules(design).items():
        # By the most grids, and whether nobody is off.
        tables: dict[tuple[int, bool], _Table] = {}
        for keepers, bit in _keepers_and_bits(design, rules):
            of_turn_out = {
                players: places.of_turn_out(rules, tuple(steps), players, keepers)
                for players in range(max(1, keepers or 0), most_players + 1)
            }
            for key in next(iter(of_turn_out.values())):
                found = {players: each[key] for players, each in of_turn_out.items()}
                found[ANY_NUMBER] = holding_any(found.values())
                for players, corners in found.items():
                    tables.setdefault(key, {}).setdefault(players, {})[bit] = corners
        for (grids, all_play), table in tables.items():
            for row in _rows(table, all_play):
                merged[row] = merged.get(row, 0) | steps[grids]
    return [_room(row, classes) for row, classes in merged.items()]


def _keepers_and_bits(design: Design, rules: Rules) -> Iterator[tuple[int | None, int]]:
    """How many keepers came, where that makes a difference, and the bits that it stands for."""
    if rules.turns_in_goal or not design.format.keepers:
        yield None, EVERY_KEEPERS_BIT
        return
    for keepers in keepers_that_matter(design):
        yield keepers, keepers_bit(keepers)


def rooms_with_kit(
    design: Design, *, most_players: int = MOST_PLAYERS, places: Places | None = None
) -> list[RoomsWithKit]:
    """The smallest rooms by what has to stand on the grids, for evenings on which somebody says what kit there is."""
    places, merged = places or Places(design), dict[tuple[str, _Row], int]()
    for rules, steps in _by_rules(design).items():
        for grids, classes in steps.items():
            bounded = replace(rules, most_grids=grids)
            for missing, table in _tables_with_kit(design, places, bounded, most_players).items():
                for row in _rows(table, False):
                    merged[missing, row] = merged.get((missing, row), 0) | classes
    return [_room_with_kit(missing, row, classes) for (missing, row), classes in sorted(merged.items())]


def _tables_with_kit(design: Design, places: Places, rules: Rules, most_players: int) -> dict[str, _Table]:
    tables: dict[str, _Table] = {}
    for keepers, bit in _keepers_and_bits(design, rules):
        of_any: dict[str, list[Corners]] = {}
        for players in range(max(1, keepers or 0), most_players + 1):
            found = places.of_turn_out_by_kit(rules, players, keepers)
            for missing, corners in found.items():
                tables.setdefault(missing, {}).setdefault(players, {})[bit] = corners
                of_any.setdefault(missing, []).append(corners)
        for missing, several in _needed({each: holding_any(all_) for each, all_ in of_any.items()}).items():
            tables.setdefault(missing, {}).setdefault(ANY_NUMBER, {})[bit] = several
    return tables


def either(several: Iterable[list[Rooms]]) -> list[Rooms]:
    """Where one at least of several designs can be run: what a drill needs for any of its rungs."""
    met: dict[tuple[bool, int], list[tuple[int, int, Corners]]] = {}
    for each in (each for of_one in several for each in of_one):
        corners = tuple(zip(each.longs_cm, each.shorts_cm, strict=True))
        met.setdefault((each.all_play, each.players), []).append((each.keepers, each.classes, corners))
    merged: dict[_Row, int] = {}
    joined: dict[frozenset[Corners], Corners] = {}
    for (all_play, players), rows in met.items():
        for classes in _parts(mask for _, mask, _ in rows):
            of_keepers: dict[int, Corners] = {}
            for bit in _parts(keepers for keepers, mask, _ in rows if mask & classes):
                regions = frozenset(
                    corners for keepers, mask, corners in rows if keepers & bit and mask & classes
                )
                if regions not in joined:
                    joined[regions] = holding_any(regions)
                of_keepers[bit] = joined[regions]
            for row in _rows({players: of_keepers}, all_play):
                merged[row] = merged.get(row, 0) | classes
    return [_room(row, classes) for row, classes in merged.items()]


def _parts(masks: Iterable[int]) -> list[int]:
    """The largest sets of bits that none of these tells apart."""
    parts: list[int] = []
    for mask in set(masks):
        rest, cut = mask, []
        for part in parts:
            cut += [piece for piece in (part & mask, part & ~mask) if piece]
            rest &= ~part
        parts = [*cut, rest] if rest else cut
    return parts


def _rows(found: _Table, all_play: bool) -> Iterator[_Row]:
    """One row for all answers about keepers that come to the same; none where nothing will do."""
    for players, of_keepers in sorted(found.items()):
        bits: dict[Corners, int] = {}
        for bit, corners in of_keepers.items():
            bits[corners] = bits.get(corners, 0) | bit
        yield from ((all_play, players, bit, corners) for corners, bit in bits.items() if corners)


def _room(row: _Row, classes: int) -> Rooms:
    all_play, players, keepers, corners = row
    return Rooms(players, keepers, classes, all_play, *_sides(corners))


def _room_with_kit(missing: str, row: _Row, classes: int) -> RoomsWithKit:
    _, players, keepers, corners = row
    return RoomsWithKit(missing, players, keepers, classes, *_sides(corners))


def _sides(corners: Corners) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(long for long, _ in corners), tuple(short for _, short in corners)


def keepers_that_matter(design: Design) -> tuple[int | None, ...]:
    """Where nobody keeps goal, how many keepers came changes nothing about whether the drill can be run."""
    return (None, *range(MOST_KEEPERS + 1)) if design.format.keepers else (None,)


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
    """What shares of a turn-out need, remembered over all turn-outs of one design.

    Most regions come again and again under other bounds. They live as long as this does, so that what is made from
    them is remembered by their addresses: to compare regions would cost more than to make them.
    """

    def __init__(self, design: Design) -> None:
        self.design = design
        self._of_geometry: dict[_Geometry, _Under] = {}
        self._of_crowd: dict[tuple[int, bool], Corners] = {}
        self._of_crew: dict[tuple[Crew, Bounds, float | None], Corners] = {}
        self._in_array: dict[tuple[frozenset[int], int], Corners] = {}
        self._joined: dict[frozenset[int], Corners] = {}
        self._shares: dict[tuple[object, ...], list[list[Shared]]] = {}
        sides = [side.players for side in design.format.sides]
        self._uneven = max(sides) - min(sides) + 2  # by so many may two sides differ, a keeper among them
        shots = rules_for(design, Evening(1)).shots
        self._arrays = {grids: _arrays(shots, grids) for grids in range(1, MOST_SMALL_GRIDS + 1)}

    def of_turn_out(
        self, rules: Rules, steps: tuple[int, ...], players: int, keepers: int | None
    ) -> dict[tuple[int, bool], Corners]:
        """Free rectangles for everyone who came, over all ways to share them out, by the most grids and whether nobody is off."""
        runs: list[Corners] = []
        all_play: list[Corners] = []
        found: dict[tuple[int, bool], Corners] = {}
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

    def of_turn_out_by_kit(self, rules: Rules, players: int, keepers: int | None) -> dict[str, Corners]:
        """The first of these by the goals that nobody keeps in each grid, where no fewer grids would do."""
        found: dict[str, list[Corners]] = {}
        under, shares_ = self._under(rules), self._shared(rules, players, keepers)
        for shared in (each for of_grids in shares_[: rules.most_grids] for each in of_grids):
            turns = rules.turns_in_goal  # every goal is kept by somebody
            missing = sorted(
                0 if turns else goals_missing(self.design.format, each) for each in shared.keepers
            )
            corners = under.window(shared.keepers, shared.outfield, _off(shared) + 1)
            found.setdefault("".join(map(str, missing)), []).extend(corners)
        joined = {missing: self.any_of(several) for missing, several in found.items()}
        return _needed({missing: corners for missing, corners in joined.items() if corners})

    def _shared(self, rules: Rules, players: int, keepers: int | None) -> list[list[Shared]]:
        """Every way to put the keepers in goal, by grids: bounds of numbers have no say in it."""
        key = rules.turns_in_goal, rules.waiting, rules.off, players, keepers
        if key not in self._shares:
            evening = Evening(players, keepers, pieces=(_AMPLE,))
            search = Search(self.design, evening, rules=rules)
            self._shares[key] = [list(search.shared(grids)) for grids in range(1, MOST_SMALL_GRIDS + 1)]
        return self._shares[key]

    def _under(self, rules: Rules) -> _Under:
        geometry = rules.bounds, rules.area_most_m2
        if geometry not in self._of_geometry:
            self._of_geometry[geometry] = _Under(self, *geometry)
        return self._of_geometry[geometry]

    def any_of(self, regions: Iterable[Corners]) -> Corners:
        """The smallest that hold any of these."""
        several = {id(each): each for each in regions if each}
        if len(several) < 2:
            return next(iter(several.values()), ())
        key = frozenset(several)
        if key not in self._joined:
            self._joined[key] = holding_any(several.values())
        return self._joined[key]

    def in_array(self, places: list[Corners]) -> Corners:
        """Free rectangles, longer side first, that hold grids in such places in an array."""
        key = frozenset(map(id, places)), len(places)
        if key not in self._in_array:
            each = list({id(place): place for place in places}.values())
            together = each[0] if len(each) == 1 else holding_each(each)
            self._in_array[key] = smallest(free_for(together, self._arrays[len(places)]))
        return self._in_array[key]

    def crew(self, crew: Crew, bounds: Bounds, area_most_m2: float | None) -> Corners:
        """Places (along the grid's length, and across) for one grid."""
        design, (outfield, keepers) = self.design, crew
        players = outfield + keepers
        if bounds.side_most is not None and players <= 2 * bounds.side_most - self._uneven:
            bounds = replace(bounds, side_most=None)  # no side of so few is larger
        key = crew, bounds, area_most_m2
        if key not in self._of_crew:
            made: Corners = ()
            if design.least_players <= players <= (design.max_players or players):
                made = self.any_of(
                    self._crowd(counted, outside)
                    for counted, outside in self._worth_a_look(crew, bounds)
                    if area_most_m2 is None or design.tightest_for_m2(counted) <= area_most_m2 * players
                )
            self._of_crew[key] = made
        return self._of_crew[key]

    def _worth_a_look(self, crew: Crew, bounds: Bounds) -> set[tuple[int, bool]]:
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

    def _crowd(self, counted: int, outside: bool) -> Corners:
        """Grids for so many players that count, with the strips of those outside."""
        if (counted, outside) not in self._of_crowd:
            design = self.design
            grids = grids_cm(design.tightest_for_m2(counted), design.ratio)
            if not design.area_matters or counted == design.counted(design.format):
                grids += ((up_cm(design.length_m), up_cm(design.width_m)),)
            ends, sides = _strips_cm(design) if outside else (0, 0)
            self._of_crowd[counted, outside] = smallest((long + ends, wide + sides) for long, wide in grids)
        return self._of_crowd[counted, outside]


def _off(shared: Shared) -> int:
    return max(shared.most_waiting, shared.most_off)


# What of the rules decides about room: the others say how many grids there are, and how many are off.
_Geometry = tuple[Bounds, float | None]


class _Under:
    """The places of a design under bounds of numbers and area."""

    def __init__(self, places: Places, bounds: Bounds, area_most_m2: float | None) -> None:
        self.places, self.design = places, places.design
        self._bounds, self._area_most_m2 = bounds, area_most_m2
        self._of_crew: dict[Crew, Corners] = {}
        self._of_blocks: dict[tuple[tuple[int, ...], int, int], Corners] = {}

    def window(self, keepers: tuple[int, ...], outfield: int, many: int) -> Iterator[Corners]:
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
                made = self.places.any_of(
                    self._block(keepers, start, half) for start in (outfield, outfield - half)
                )
            self._of_blocks[key] = made
        return self._of_blocks[key]

    def _played(self, keepers: tuple[int, ...], outfield: int) -> Corners:
        """For exactly so many who play."""
        return self.places.any_of(
            self.places.in_array([self._crew(crew) for crew in zip(sizes, keepers, strict=True)])
            for sizes in shares(self.design, outfield, len(keepers))
        )

    def _crew(self, crew: Crew) -> Corners:
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


def _strips_cm(design: Design) -> tuple[int, int]:
    """What outside players need at both end lines together, and at both touchlines."""
    ends, sides = pairs(design.edges_of_outside())
    return int(ends * STRIP_LEAST_M * CM), int(sides * STRIP_LEAST_M * CM)
