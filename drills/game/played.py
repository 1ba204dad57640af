"""A drill as it is run tonight: the one value that pages, pitch, paper and the API read.

`Played` is never stored: it follows from a document, a rung, a set-up and the bibs, and nothing else decides it. Its
`document` is the drill in tonight's numbers and colours, so whatever says or draws a document says and draws tonight's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import msgspec

from drills.game.bibs import NO_BIB, RESTING, Wear, bibs_for, bibs_in, colours_worn, in_colours
from drills.game.document.choices import GoalSize, GroupHome, NumbersKind, PlaysFor
from drills.game.document.content import Goal, Group, Numbers
from drills.game.document.drill import DrillDocument
from drills.game.evening import Evening, PlayerAges
from drills.game.fit.kit import BIBS, kit_list
from drills.game.fit.setup import SetUp
from drills.game.format import Format
from drills.game.format import Side as SideOf
from drills.game.groups import KEEPER, FormatSlot, slots_of
from drills.game.pitches import GoalFrame, goal_of
from drills.game.playable import design_of, grid_of
from drills.game.roster import roster_of
from drills.game.scene import Side
from drills.game.sentences import Names
from drills.game.variations import played
from drills.game.wording.rendering import Translate, as_written, text_of
from drills.game.wording.shapes import Sentence

_PLAYS_FOR: dict[Side, PlaysFor] = {
    "A": PlaysFor.A,
    "B": PlaysFor.B,
    "C": PlaysFor.C,
    "D": PlaysFor.D,
    "neutral": PlaysFor.BALL,
}


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


@dataclass(frozen=True)
class Played:
    """A drill as it is run. `document` speaks of the first grid; `base` is the drill without its rung, in the same colours.

    `setup` None: as it is written, with the ranges of its groups as they stand. `written` is what all was made from.
    """

    written: DrillDocument
    base: DrillDocument
    rung: str
    document: DrillDocument
    setup: SetUp | None
    grids: tuple[GridTonight, ...]
    grid_key: str = ""
    goal: GoalFrame | None = None  # tonight's age group's own; None: nobody said who plays

    @property
    def has_own_goals(self) -> bool:
        """Whether goals stand that are as large as those of tonight's matches."""
        return self.goal is not None and any(is_age_groups(each) for each in self.document.goals)

    @property
    def first(self) -> GridTonight:
        """The grid that `document` speaks of."""
        return self.grids[0]

    @cached_property
    def kit(self) -> dict[str, int]:
        """What has to be carried, by kind; as many bibs as are worn, not the fewest that would do."""
        setup = self.setup
        kit = setup.kit if setup else kit_list(design_of(self.written, self.rung), [self.first.format])
        worn = sum(self.bibs.values())
        return {**{kind: n for kind, n in kit.items() if kind != BIBS}, **({BIBS: worn} if worn else {})}

    @cached_property
    def pictures(self) -> tuple[tuple[GridTonight, int], ...]:
        """The grids that differ, each with how many there are of it."""
        found: list[tuple[GridTonight, int]] = []
        for grid in self.grids:
            place = next((n for n, (each, _) in enumerate(found) if grid.like(each)), None)
            if place is None:
                found.append((grid, 1))
            else:
                found[place] = found[place][0], found[place][1] + 1
        return tuple(found)

    def names(self, translate: Translate = as_written) -> Names:
        """What everything is called tonight."""
        return Names.of(self.document, translate, self.first.wear)

    @property
    def off(self) -> int:
        """Players who are off at one time."""
        return sum(each.off for each in self.grids)

    @cached_property
    def bibs(self) -> dict[str, int]:
        """How many bibs of each colour are worn, over all grids, those who are off among them; keepers wear their own."""
        found: dict[str, int] = {}
        for grid in self.grids:
            for each in (*grid.groups, *grid.waiting):
                if each.bib and not each.keeps_goal:
                    found[each.bib] = found.get(each.bib, 0) + each.count
        return found

    @property
    def other_colours(self) -> tuple[Sentence, ...]:
        """Who wears what on a grid whose colours are not those of the words: a sentence for each such grid."""
        first = self.first
        said = []
        for grid in self.grids[1:]:
            pairs = tuple(
                Sentence("colour_for_colour", {"tonight": grid.worn[side], "words": first.worn[side]})
                for side in grid.worn
                if side in first.worn and grid.worn[side] != first.worn[side]
            )
            if pairs:
                said.append(Sentence("grid_in_other_colours", {"number": grid.number, "pairs": pairs}))
        return tuple(said)


def as_played(
    document: DrillDocument,
    rung: str = "",
    setup: SetUp | None = None,
    bibs: Sequence[Wear] = (),
    *,
    grid_key: str = "",
    players: PlayerAges | None = None,
) -> Played:
    """A rung as it is run with a set-up (as it is written without one), in the bibs of each grid (`bibs_for`).

    `players` says whose goals stand on it. Raises KeyError for an unknown rung or grid, CannotApply, and UnclearFormat.
    """
    wear = bibs[0] if bibs else {}
    base = in_colours(document, wear)
    doc = played(base, rung)
    grids = tuple(_grids(played(document, rung), setup, bibs, grid_key))
    first = grids[0]
    tonights = doc if setup is None else _tonights(doc, setup, first)
    goal = None if players is None else goal_of(players)
    return Played(document, base, rung, tonights, setup, grids, grid_key, goal)


def is_age_groups(goal: Goal) -> bool:
    """Whether it is a goal of a match, without a width of its own: it stands in the size of tonight's age."""
    return goal.size in (GoalSize.AGE_GROUP, GoalSize.FULL) and goal.width_m is None


def dressed(document: DrillDocument, rung: str, setup: SetUp, evening: Evening) -> Played:
    """A set-up that has only been offered, in the bibs that it would be written down with."""
    bibs = bibs_tonight(document, rung, setup, evening)
    return as_played(document, rung, setup, bibs, players=evening.ages)


def bibs_tonight(document: DrillDocument, rung: str, setup: SetUp, evening: Evening) -> tuple[Wear, ...]:
    """What each grid of a set-up wears, out of the bibs of the evening's kit."""
    doc = played(document, rung)
    return bibs_for(doc, setup.grid_formats, bibs_in(evening.kit), waiting=setup.waiting)


def _grids(doc: DrillDocument, setup: SetUp | None, bibs: Sequence[Wear], grid_key: str) -> list[GridTonight]:
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


def _tonights(doc: DrillDocument, setup: SetUp, grid: GridTonight) -> DrillDocument:
    """The document in tonight's numbers on tonight's grid."""
    known = {each.key: each for each in doc.groups}
    counted = {each.key: each for each in grid.groups}
    roster_keys = {key for key, slot in slots_of(doc).items() if slot is not None}
    groups = [
        msgspec.structs.replace(each, least=counted[each.key].count, most=None)
        if each.key in counted
        else each
        for each in doc.groups
        if each.key in counted or each.key not in roster_keys
    ]
    groups += [_written(each) for each in grid.groups if each.key not in known]
    first = msgspec.structs.replace(doc.grids[0], length_m=setup.length_m, width_m=setup.width_m)
    written = Format.parse(doc.format)
    phases = tuple(
        msgspec.structs.replace(each, format=_phase_tonight(each.format, written, grid.format))
        for each in doc.phases
    )
    return msgspec.structs.replace(
        doc,
        format=str(grid.format),
        numbers=Numbers(kind=NumbersKind.EXACT),
        groups=tuple(groups),
        grids=(first, *doc.grids[1:]),
        phases=phases,
    )


def _phase_tonight(phase: str, written: Format, tonight: Format) -> str:
    """What the game becomes with tonight's numbers: as many more and fewer as it becomes with those of the drill.

    As it is written where that leaves nobody to play with.
    """
    if written == tonight:
        return phase
    try:
        then = Format.parse(phase)
        if not len(then.sides) == len(written.sides) == len(tonight.sides):
            return phase
        sides = tuple(
            SideOf(
                now.inside + new.inside - old.inside,
                max(0, now.outside + new.outside - old.outside),
                min(1, max(0, now.keeper + new.keeper - old.keeper)),
            )
            for new, old, now in zip(then.sides, written.sides, tonight.sides, strict=True)
        )
        more_in = tonight.neutrals_inside + then.neutrals_inside - written.neutrals_inside
        more_out = tonight.neutrals_outside + then.neutrals_outside - written.neutrals_outside
        return str(Format(sides, max(0, more_in), max(0, more_out)))
    except ValueError:  # nobody left on a side, or more than a format holds
        return phase


def _written(added: GroupTonight) -> Group:
    return Group(
        key=added.key,
        name=added.name,
        plays_for=_PLAYS_FOR[added.side],
        place=added.place,
        least=added.count,
        role=KEEPER if added.keeps_goal else None,
        bib=added.bib or None,
    )


__all__ = ["GridTonight", "GroupTonight", "Played", "as_played", "bibs_tonight", "dressed"]
