"""The groups of a variation that is played with other numbers: what has to change in them with its format."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain, count

import msgspec

from drills.game.document.choices import GroupHome, PlaysFor
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.document.operations import Operation, PutGroup, RemoveGroup
from drills.game.format import Format
from drills.game.groups import KEEPER, FormatSlot, in_grid, player_groups
from drills.game.roster import roster_of


def groups_follow(
    document: DrillDocument, fmt: Format, name_of: Callable[[FormatSlot], str]
) -> tuple[Operation, ...]:
    """The changes of groups that go with another format of a drill.

    Sizes are shared as on a night with these numbers (`Roster.spread`); a range that holds the size stays as it is. A
    group whose place is empty goes; a place that is new (a keeper, floaters, a side) gets a group with the name that
    `name_of` gives it. Nothing where no groups are written. Raises UnclearFormat.
    """
    roster = roster_of(document)
    if not roster.members:
        return ()
    counts = roster.spread(fmt)
    made = (_resized(each, counts.get(each.key)) for each in player_groups(document))
    return (*(each for each in made if each), *_new(document, fmt, name_of))


def _resized(group: Group, players: int | None) -> Operation | None:
    if players is None or in_grid(group).holds(players):
        return None
    if not players:
        return RemoveGroup(key=group.key)
    return PutGroup(group=msgspec.structs.replace(group, least=players, most=None))


def _new(document: DrillDocument, fmt: Format, name_of: Callable[[FormatSlot], str]) -> Iterator[Operation]:
    taken = {each.key for each in document.groups}
    for slot, players in roster_of(document).added(fmt).items():
        stem, place = _placed(slot, fmt)
        key = next(each for each in chain([stem], (f"{stem}{n}" for n in count(2))) if each not in taken)
        taken.add(key)
        plays_for = PlaysFor.BALL if slot.side == "neutral" else PlaysFor(slot.side)
        role = KEEPER if slot.where == "keeper" else None
        group = Group(key=key, name=name_of(slot), plays_for=plays_for, place=place, least=players, role=role)
        yield PutGroup(group=group)


def _placed(slot: FormatSlot, fmt: Format) -> tuple[str, GroupHome]:
    """What the new group's key begins with, and where it stands."""
    if slot.where == "keeper":
        return "K", GroupHome.GOAL
    if slot.side == "neutral":
        return "N", GroupHome.INSIDE if fmt.neutrals_inside else GroupHome.EVERY_SIDE
    return slot.side, GroupHome.INSIDE
