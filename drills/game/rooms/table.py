"""The rooms of a design as rows: for each turn-out, each class of evenings, and with or without somebody off."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from drills.game.design import Design
from drills.game.fit.rules import Rules
from drills.game.format import MOST_PLAYERS
from drills.game.minimal_rectangles import MinimalRectangles, holding_any
from drills.game.rooms.classes import (
    ANY_NUMBER,
    ENGINE_VERSION,
    EVERY_KEEPERS_BIT,
    by_rules,
    keepers_bit,
    keepers_that_matter,
)
from drills.game.rooms.places import ShareNeeds, needed, strips_cm

# Players → bits of keepers → what they need.
_Table = dict[int, dict[int, MinimalRectangles]]
# Whether everybody plays, players, bits of keepers, what they need.
_Row = tuple[bool, int, int, MinimalRectangles]


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


def fingerprint(design: Design, most_players: int = MOST_PLAYERS) -> str:
    """Designs with the same one have the same `rooms`: kit, bibs, ages and words play no part in them."""
    facts = (
        *(ENGINE_VERSION, most_players, design.format, design.length_m, design.width_m),
        *(design.anyone_can_join, design.least_players, design.max_players, design.may_wait, design.work_s),
        *(design.counts_everyone, design.area_matters, design.sides_by_age, strips_cm(design)),
        *(design.sides_fixed, design.neutrals_fixed, design.outside_fixed, tuple(sorted(design.shot_at))),
        (design.adults_needed, design.slots),
    )
    return hashlib.sha256(repr(facts).encode()).hexdigest()


def fingerprint_of_either(fingerprints: Iterable[str]) -> str:
    """Of `either` for designs with these; a single one's own."""
    several = sorted(set(fingerprints))
    return several[0] if len(several) == 1 else hashlib.sha256(" ".join(several).encode()).hexdigest()


def rooms(
    design: Design, *, most_players: int = MOST_PLAYERS, places: ShareNeeds | None = None
) -> list[Rooms]:
    """The smallest rooms for 1 to `most_players` players, and for any number, in each class of evenings.

    `places` of the same design, where both this and `rooms_with_kit` are asked for: most of the work is the same.
    """
    places, merged = places or ShareNeeds(design), dict[_Row, int]()
    for rules, steps in by_rules(design).items():
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
    design: Design, *, most_players: int = MOST_PLAYERS, places: ShareNeeds | None = None
) -> list[RoomsWithKit]:
    """The smallest rooms by what has to stand on the grids, for evenings on which somebody says what kit there is."""
    places, merged = places or ShareNeeds(design), dict[tuple[str, _Row], int]()
    for rules, steps in by_rules(design).items():
        for grids, classes in steps.items():
            bounded = replace(rules, most_grids=grids)
            for missing, table in _tables_with_kit(design, places, bounded, most_players).items():
                for row in _rows(table, False):
                    merged[missing, row] = merged.get((missing, row), 0) | classes
    return [_room_with_kit(missing, row, classes) for (missing, row), classes in sorted(merged.items())]


def _tables_with_kit(
    design: Design, places: ShareNeeds, rules: Rules, most_players: int
) -> dict[str, _Table]:
    tables: dict[str, _Table] = {}
    for keepers, bit in _keepers_and_bits(design, rules):
        of_any: dict[str, list[MinimalRectangles]] = {}
        for players in range(max(1, keepers or 0), most_players + 1):
            found = places.of_turn_out_by_kit(rules, players, keepers)
            for missing, corners in found.items():
                tables.setdefault(missing, {}).setdefault(players, {})[bit] = corners
                of_any.setdefault(missing, []).append(corners)
        for missing, several in needed({each: holding_any(all_) for each, all_ in of_any.items()}).items():
            tables.setdefault(missing, {}).setdefault(ANY_NUMBER, {})[bit] = several
    return tables


def either(several: Iterable[list[Rooms]]) -> list[Rooms]:
    """Where one at least of several designs can be run: what a drill needs for any of its rungs."""
    met: dict[tuple[bool, int], list[tuple[int, int, MinimalRectangles]]] = {}
    for each in (each for of_one in several for each in of_one):
        corners = tuple(zip(each.longs_cm, each.shorts_cm, strict=True))
        met.setdefault((each.all_play, each.players), []).append((each.keepers, each.classes, corners))
    merged: dict[_Row, int] = {}
    joined: dict[frozenset[MinimalRectangles], MinimalRectangles] = {}
    for (all_play, players), rows in met.items():
        for classes in _parts(mask for _, mask, _ in rows):
            of_keepers: dict[int, MinimalRectangles] = {}
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
        bits: dict[MinimalRectangles, int] = {}
        for bit, corners in of_keepers.items():
            bits[corners] = bits.get(corners, 0) | bit
        yield from ((all_play, players, bit, corners) for corners, bit in bits.items() if corners)


def _room(row: _Row, classes: int) -> Rooms:
    all_play, players, keepers, corners = row
    return Rooms(players, keepers, classes, all_play, *_sides(corners))


def _room_with_kit(missing: str, row: _Row, classes: int) -> RoomsWithKit:
    _, players, keepers, corners = row
    return RoomsWithKit(missing, players, keepers, classes, *_sides(corners))


def _sides(corners: MinimalRectangles) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(long for long, _ in corners), tuple(short for _, short in corners)
