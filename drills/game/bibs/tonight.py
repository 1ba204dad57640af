"""Who wears which bib: as a drill has it written, and tonight, out of the bibs that there are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from drills.game.bibs.words import COLOURS
from drills.game.document.choices import GroupHome
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import SIDES, FormatSlot, player_groups, slots_of
from drills.game.roster import roster_of
from drills.game.scene import Side

# Written colour → the colour that is worn for it; a colour that is not named is worn as it is written.
Wear = Mapping[str, str]

NO_BIB = "no bib"
_OF_BIBS = " bibs"
RESTING = "resting"  # in a `Wear`: the bib of a whole team that is off and goes round with the others
# What a side wears that the drill has no group for.
_DEFAULTS: dict[Side, str] = {"A": "blue", "B": "red", "C": "green", "D": "orange", "neutral": "yellow"}


def colours_worn(document: DrillDocument, fmt: Format) -> dict[Side, str]:
    """The bib of every side and of the neutrals: that of its groups, those inside first, keepers only where nobody else is.

    `NO_BIB` where its groups wear none; where it has no group, a colour that is free. Raises UnclearFormat.
    """
    own = dict(_written(document))
    worn: dict[Side, str] = {}
    for side in (*SIDES[: len(fmt.sides)], *(("neutral",) if fmt.neutrals else ())):
        worn[side] = own[side] if side in own else free_colour(side, [*own.values(), *worn.values()])
    return worn


def _written(document: DrillDocument) -> Iterator[tuple[Side, str]]:
    slots = slots_of(document)
    in_order = sorted(player_groups(document), key=lambda each: each.place is not GroupHome.INSIDE)
    placed = [(slot, each) for each in in_order if (slot := slots[each.key]) is not None]
    for side in dict.fromkeys(slot.side for slot, _ in placed):
        here = [(slot, each) for slot, each in placed if slot.side == side]
        outfield = [each for slot, each in here if slot.where != "keeper"] or [each for _, each in here]
        yield side, next((each.bib for each in outfield if each.bib), NO_BIB)


def free_colour(side: Side, taken: Iterable[str]) -> str:
    """The colour of a side that the drill gives none: one that no other side wears."""
    worn = set(taken)
    return next(each for each in (_DEFAULTS[side], *COLOURS) if each not in worn)


@dataclass(frozen=True)
class _Needs:
    """How many bibs of each written colour one grid takes, and the keepers' colours, of which nobody runs out."""

    bibs: dict[str, int]
    keepers: tuple[str, ...]


def bibs_in(kit: Mapping[str, int]) -> list[tuple[str, int]]:
    """The bibs of a stock by colour (`red bibs`), in the order in which colours are offered."""
    colours = [(kind.removesuffix(_OF_BIBS), count) for kind, count in kit.items() if kind.endswith(_OF_BIBS)]
    order = {colour: place for place, colour in enumerate(COLOURS)}
    return sorted(colours, key=lambda each: (order.get(each[0], len(order)), each[0]))


def bibs_for(
    document: DrillDocument,
    formats: Sequence[Format],
    stock: Sequence[tuple[str, int]] = (),
    *,
    waiting: int = 0,
) -> tuple[Wear, ...]:
    """What is worn on each grid tonight. `stock`: colour and how many there are, in the order in which teams take them.

    Written colours are kept where there are enough of them; all grids wear the same where the stock allows it. Where it
    is too small even for single grids, or is not counted, colours stay as they are written. A whole team of `waiting`
    players beside a single grid has a colour of its own. Raises UnclearFormat.
    """
    resting = waiting if len(formats) == 1 and rests_as_team(formats[0], waiting) else 0
    needs = [_needed(document, fmt, resting) for fmt in formats]
    left = {colour: count for colour, count in stock if count}
    if not left and resting:
        return ({RESTING: free_colour("C", needs[0].bibs)},)
    if not left:
        return tuple({} for _ in formats)
    together = {
        colour: sum(each.bibs.get(colour, 0) for each in needs)
        for colour in dict.fromkeys(colour for each in needs for colour in each.bibs)
    }
    same = _chosen(together, left)
    if same is not None:
        return tuple(_with_keepers(same, each.keepers) for each in needs)
    found: list[Wear] = []
    for each in needs:
        own = _chosen(each.bibs, left) or {}
        for colour, count in each.bibs.items():
            worn = own.get(colour, colour)
            left[worn] = max(0, left.get(worn, 0) - count)
        found.append(_with_keepers(own, each.keepers))
    return tuple(found)


def rests_as_team(fmt: Format, waiting: int) -> bool:
    """Whether those who are off are one whole team, which goes round with the others."""
    sizes = {side.outfield for side in fmt.sides}
    return fmt.has_opponents and sizes == {waiting} and fmt.neutrals in (0, waiting)


def _needed(document: DrillDocument, fmt: Format, resting: int) -> _Needs:
    roster, slots = roster_of(document), slots_of(document)
    counts, worn = roster.spread(fmt), colours_worn(document, fmt)
    bibs: dict[str, int] = {}
    for colour, count in _counted(document, counts, slots):
        bibs[colour] = bibs.get(colour, 0) + count
    for slot, count in roster.added(fmt).items():
        colour = worn.get(slot.side, NO_BIB)
        if slot.where != "keeper" and colour != NO_BIB:
            bibs[colour] = bibs.get(colour, 0) + count
    if resting:
        bibs[RESTING] = resting
    keepers = (each.bib for each in player_groups(document) if each.bib and _keeps(each, slots))
    return _Needs(bibs, tuple(dict.fromkeys(keepers)))


def _counted(
    document: DrillDocument, counts: Mapping[str, int], slots: Mapping[str, FormatSlot | None]
) -> Iterator[tuple[str, int]]:
    for each in player_groups(document):
        if each.bib and not _keeps(each, slots):
            yield each.bib, counts.get(each.key, 0)


def _keeps(group: Group, slots: Mapping[str, FormatSlot | None]) -> bool:
    slot = slots.get(group.key)
    return group.place is GroupHome.GOAL or (slot is not None and slot.where == "keeper")


def _chosen(needed: Mapping[str, int], stock: Mapping[str, int]) -> dict[str, str] | None:
    """A colour for each written one, all different, with as few changes as there can be; None where the stock is too small."""
    order = sorted(needed, key=lambda colour: -needed[colour])
    best: tuple[int, dict[str, str]] | None = None

    def search(place: int, made: dict[str, str], changes: int) -> None:
        nonlocal best
        if best is not None and changes >= best[0]:
            return
        if place == len(order):
            best = changes, dict(made)
            return
        colour = order[place]
        for each in dict.fromkeys((colour, *stock)):
            if each != RESTING and each not in made.values() and stock.get(each, 0) >= needed[colour]:
                search(place + 1, {**made, colour: each}, changes + (each != colour))

    search(0, {}, 0)
    return None if best is None else {written: best[1][written] for written in needed}


def _with_keepers(worn: Mapping[str, str], keepers: Sequence[str]) -> Wear:
    """Keepers keep their colour unless players wear it tonight: then the first colour that nobody wears."""
    made = dict(worn)
    taken = set(worn.values())
    for colour in keepers:
        if colour in worn:
            continue  # the same colour as players by design
        free = next(each for each in (colour, *COLOURS) if each not in taken)
        made[colour] = free
        taken.add(free)
    return {written: tonight for written, tonight in made.items() if written != tonight}
