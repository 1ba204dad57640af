"""The groups of a drill by the places that a format has: who plays for whom, and what the groups' own numbers bound.

The format says how many play for whom, and who of them stands outside or in goal; a *slot* is one such place. Several groups
may share a slot (backs, middles and forwards of one side). How many of each there are on a night: `drills.game.roster`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple

from drills.game.document.choices import GroupHome, NumbersKind, PlaysFor
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.scene import Side

Where = Literal["inside", "outside", "keeper"]
ADULT = "adult"  # the role of grown-ups who play or serve: never counted as players
KEEPER = "keeper"

SIDES: tuple[Side, ...] = ("A", "B", "C", "D")
_NAMED: dict[PlaysFor, Side] = {
    PlaysFor.A: "A",
    PlaysFor.B: "B",
    PlaysFor.C: "C",
    PlaysFor.D: "D",
    PlaysFor.BALL: "neutral",
}
_ON_EDGES = frozenset({GroupHome.TOUCHLINE, GroupHome.END_LINE, GroupHome.EVERY_SIDE})


class FormatSlot(NamedTuple):
    """A place that a format has: a side (or the neutrals), inside, outside or in goal.

    "inside" holds a side's outside players too where the drill does not tell the two apart. In a format without
    opponents there is one side, A: anyone.
    """

    side: Side
    where: Where


class Bounds(NamedTuple):
    """From `least` to `most` players; `most` None: as many as come."""

    least: int
    most: int | None

    def holds(self, players: int) -> bool:
        """Whether so many are within."""
        return self.least <= players and (self.most is None or players <= self.most)


def player_groups(document: DrillDocument) -> tuple[Group, ...]:
    """The groups that players are in: adults and those who play for nobody are not counted."""
    return tuple(
        each for each in document.groups if each.plays_for is not PlaysFor.NOBODY and each.role != ADULT
    )


def written(group: Group) -> Bounds:
    """What the author wrote, everyone counted who waits in the group's queue: no most is exactly the least."""
    return Bounds(group.least, group.least if group.most is None else group.most)


def varies(document: DrillDocument) -> bool:
    """Whether any group has a range."""
    return any(each.most is not None and each.most > each.least for each in player_groups(document))


def group_bounds(document: DrillDocument) -> dict[str, Bounds]:
    """How many may be in each group on a night with other numbers, everyone counted who waits in its queue.

    A range that was written holds. A group without one is exact where it has a role (a server, a back, a 9), and where
    the drill is for a range of players and other groups vary; any other takes more or fewer, at least one (neutrals: none).
    """
    exact = document.numbers.kind is not NumbersKind.EXACT and varies(document)
    found = {}
    for each in player_groups(document):
        if each.most is not None or each.role or exact:
            found[each.key] = written(each)
        else:
            kept = 0 if each.plays_for is PlaysFor.BALL else 1
            found[each.key] = Bounds(min(kept, each.least), None)
    return found


def total(bounds: Iterable[Bounds]) -> Bounds:
    """Least and most of several bounds added up; no most where one of them has none."""
    every = list(bounds)
    mosts = [each.most for each in every if each.most is not None]
    return Bounds(sum(each.least for each in every), sum(mosts) if len(mosts) == len(every) else None)


def slot_bounds(document: DrillDocument) -> dict[FormatSlot, Bounds]:
    """`group_bounds` added up for each slot that groups fill. Raises UnclearFormat."""
    slots, bounds = slots_of(document), group_bounds(document)
    return {
        slot: total(bounds[key] for key, each in slots.items() if each == slot)
        for slot in dict.fromkeys(slots.values())
        if slot is not None
    }


def slot_players(fmt: Format) -> dict[FormatSlot, int]:
    """How many a format has in each of its slots, sides first, then neutrals; zeros are told too."""
    found: dict[FormatSlot, int] = {}
    for name, side in zip(SIDES, fmt.sides, strict=False):
        found[FormatSlot(name, "inside")], found[FormatSlot(name, "outside")] = side.inside, side.outside
        found[FormatSlot(name, "keeper")] = side.keeper
    found[FormatSlot("neutral", "inside")] = fmt.neutrals_inside
    found[FormatSlot("neutral", "outside")] = fmt.neutrals_outside
    return found


# --- which slot a group fills ------------------------------------------------------------------------------------


def slots_of(document: DrillDocument) -> dict[str, FormatSlot | None]:
    """The slot of each group of players; None where the drill's own format has nobody for it. Raises UnclearFormat.

    Inside and outside are told apart where the format does so and groups stand in both; a rondo's five on the edges
    are the five of 5v2. Who guards a goal fills a keeper's slot where the side has one in the format.
    """
    fmt = Format.parse(document.format)
    groups = player_groups(document)
    sides = _sides(groups, fmt)
    wheres = {each.key: _where(each, sides[each.key], fmt) for each in groups}
    found: dict[str, FormatSlot | None] = {}
    for each in groups:
        side, where = sides[each.key], wheres[each.key]
        if side is None:
            found[each.key] = None
            continue
        both = {wheres[other.key] for other in groups if sides[other.key] == side}
        apart = {"inside", "outside"} <= both and _both_in(fmt, side)
        found[each.key] = FormatSlot(side, where if apart or where == "keeper" else "inside")
    return found


def side_of(group: Group) -> Side:
    """The side that a group is written for; A for one that plays for itself."""
    return _NAMED.get(group.plays_for, "A")


def _sides(groups: Sequence[Group], fmt: Format) -> dict[str, Side | None]:
    """Whom each group plays for in this format. A group for itself is a side that no other group is."""
    there = SIDES[: len(fmt.sides)]
    free = [side for side in there if all(_NAMED.get(each.plays_for) != side for each in groups)]
    found: dict[str, Side | None] = {}
    for each in groups:
        side = _NAMED.get(each.plays_for)
        if side == "neutral":
            found[each.key] = side if fmt.neutrals else None
        elif not fmt.has_opponents:
            found[each.key] = "A"
        elif side is None:
            found[each.key] = free.pop(0) if free else None
        else:
            found[each.key] = side if side in there else None
    return found


def _where(group: Group, side: Side | None, fmt: Format) -> Where:
    if side not in (None, "neutral"):
        own = fmt.sides[SIDES.index(side)]
        in_goal = group.place is GroupHome.GOAL or group.role == KEEPER
        if own.keeper and (in_goal or not own.outfield):
            return "keeper"
    return "outside" if group.place in _ON_EDGES else "inside"


def _both_in(fmt: Format, side: Side) -> bool:
    players = slot_players(fmt)
    return bool(players[FormatSlot(side, "inside")] and players[FormatSlot(side, "outside")])


def in_grid(group: Group) -> Bounds:
    """What the author wrote, for one grid at one time: of a group in a queue at least one plays, the others may wait."""
    least, most = written(group)
    return Bounds(min(least, 1) if group.place is GroupHome.QUEUE else least, most)
