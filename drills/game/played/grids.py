"""The grids of a drill as it is run: size and numbers, which group is where in which bibs, who waits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drills.game.bibs import NO_BIB, RESTING, Wear, colours_worn, in_colours
from drills.game.document.choices import GroupHome
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.fit.setup import SetUp
from drills.game.format import Format
from drills.game.groups import FormatSlot, slots_of
from drills.game.playable import grid_of
from drills.game.roster import roster_of
from drills.game.scene import Side
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence


@dataclass(frozen=True)
class GroupTonight:
    """One group in one grid: what it is called, its bib ("" for none), how many, and where it stands."""

    key: str
    name: str
    bib: str
    count: int
    place: GroupHome
    side: Side
    keeps_goal: bool = False
    zone: str = ""  # what the zone is called that it keeps to


@dataclass(frozen=True)
class GridTonight:
    """One grid: numbers, size in metres, groups, how many wait beside it, and what is worn on it."""

    number: int  # from 1
    format: Format
    length_m: float
    width_m: float
    groups: tuple[GroupTonight, ...]
    waiting: tuple[GroupTonight, ...]
    off: int  # players who wait beside this grid
    wear: Wear
    worn: Mapping[Side, str]

    def like(self, other: GridTonight) -> bool:
        """Whether both look the same."""
        return self._look() == other._look()

    def _look(self) -> tuple[object, ...]:
        return self.format, self.length_m, self.width_m, self.groups, self.off


def grids_tonight(
    doc: DrillDocument, setup: SetUp | None, bibs: Sequence[Wear], grid_key: str
) -> list[GridTonight]:
    """Every grid of a set-up; without one the grid as it is written, the first or the one of this key."""
    if setup is None:
        grid = grid_of(doc, grid_key)
        wear = bibs[0] if bibs else {}
        return [_grid(doc, 1, Format.parse(doc.format), (grid.length_m, grid.width_m), 0, wear)]
    shares = _shares(setup.waiting, setup.grids)
    return [
        _grid(doc, number, fmt, size, off, bibs[number - 1] if number <= len(bibs) else {})
        for number, (fmt, size, off) in enumerate(
            zip(setup.grid_formats, setup.grid_sizes, shares, strict=True), start=1
        )
    ]


def _shares(waiting: int, grids: int) -> list[int]:
    """Those who are off, shared over the grids as evenly as can be."""
    return [waiting // grids + (number < waiting % grids) for number in range(grids)]


def _grid(
    doc: DrillDocument, number: int, fmt: Format, size: tuple[float, float], off: int, wear: Wear
) -> GridTonight:
    coloured = in_colours(doc, wear)
    worn = {side: wear.get(colour, colour) for side, colour in colours_worn(doc, fmt).items()}
    roster = roster_of(doc)
    counts = roster.spread(fmt)
    slots = slots_of(doc)
    groups = [
        _group(coloured, each, slots[each.key], counts[each.key])
        for each in coloured.groups
        if counts.get(each.key) and slots.get(each.key)
    ]
    groups += [_added(slot, count, worn) for slot, count in roster.added(fmt).items()]
    waiting = list(_waiting(coloured, roster.off(fmt, off), slots, off, wear, worn))
    return GridTonight(number, fmt, *size, tuple(groups), tuple(waiting), off, wear, worn)


def _waiting(
    doc: DrillDocument,
    counts: Mapping[str, int],
    slots: Mapping[str, FormatSlot | None],
    off: int,
    wear: Wear,
    worn: Mapping[Side, str],
) -> Iterator[GroupTonight]:
    """Those who are off: a team of their own where whole teams go round, else as their groups share it."""
    if RESTING in wear:
        name = text_of(Sentence("group_in_bibs", {"bib": wear[RESTING], "n": off}))
        yield GroupTonight(RESTING, name, wear[RESTING], off, GroupHome.QUEUE, "A")
        return
    for each in doc.groups:
        if counts.get(each.key):
            yield _group(doc, each, slots[each.key], counts[each.key])
    if left := off - sum(counts.values()):  # nobody is written down
        bib = worn.get("A", NO_BIB)
        name = text_of(Sentence("group_in_bibs", {"bib": bib, "n": left}))
        yield GroupTonight("off", name, "" if bib == NO_BIB else bib, left, GroupHome.QUEUE, "A")


def _group(doc: DrillDocument, group: Group, slot: FormatSlot | None, count: int) -> GroupTonight:
    assert slot is not None
    keeps = slot.where == "keeper"
    bib = "" if group.bib in (None, NO_BIB) else str(group.bib)
    named = (each.name for each in doc.zones if group.place is GroupHome.ZONE and each.key == group.zone)
    return GroupTonight(group.key, group.name, bib, count, group.place, slot.side, keeps, next(named, ""))


def _added(slot: FormatSlot, count: int, worn: Mapping[Side, str]) -> GroupTonight:
    """Somebody whom the drill has no group for: a keeper more, floaters, a side that it never names."""
    keeps = slot.where == "keeper"
    bib = worn.get(slot.side, NO_BIB)
    place = GroupHome.GOAL if keeps else GroupHome.EVERY_SIDE if slot.where == "outside" else GroupHome.INSIDE
    name = text_of(Sentence("group_keepers" if keeps else "group_in_bibs", {"bib": bib, "n": count}))
    return GroupTonight(
        f"+{slot.side}-{slot.where}",  # no key that an author can write: those begin with a letter or a digit
        name,
        "" if keeps or bib == NO_BIB else bib,
        count,
        place,
        slot.side,
        keeps,
    )
