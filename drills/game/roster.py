"""How many of each group there are: what the groups of a drill say, held against the numbers of a format, slot by slot.

How a slot is shared: the design's own shares are kept as nearly as whole players allow, that is, sum(count² / share) is
least within the groups' bounds. That is the method of major fractions (Webster, Sainte-Laguë), which never takes somebody
from a group because one more player came. Players are given out one by one, each where (2 · count + 1) / share is least,
which is exact for a convex sum within bounds; the group written first wins where two are equal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from drills.game.document.choices import GroupHome
from drills.game.document.content import Group
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import (
    Bounds,
    FormatSlot,
    group_bounds,
    in_grid,
    player_groups,
    slot_players,
    slots_of,
    total,
    written,
)


@dataclass(frozen=True)
class _Member:
    """One group of a slot: bounds in one grid, and what it weighs beside the others."""

    key: str
    bounds: Bounds
    share: Fraction


_Maker = Callable[[Group], _Member]


@dataclass(frozen=True)
class GroupRoster:
    """The groups of one drill, ready to be counted for any numbers (`roster_of`)."""

    members: Mapping[FormatSlot, tuple[_Member, ...]]
    homeless: tuple[Bounds, ...]  # groups that no slot of the design is for

    def counts(self, fmt: Format, *, added: bool = False) -> dict[str, int] | None:
        """How many of each group stand in one grid that plays `fmt`; None where the groups' bounds cannot be met.

        The counts add up to `fmt.players`. With `added`, players whom the design has no group for (a joker, a keeper
        more) are left out; see `added`. Else they are None.
        """
        players = self.players(fmt)
        if any(each.least for each in self.homeless) or not self.members:
            return None
        if not added and any(self._strangers(players).values()):
            return None
        made: dict[str, int] = {}
        for slot, members in self.members.items():
            found = _shared(players.get(slot, 0), _tonight(slot, players.get(slot, 0), members))
            if found is None:
                return None
            made |= found
        return made

    def spread(self, fmt: Format) -> dict[str, int]:
        """The same, and never None: a slot whose bounds cannot be met is shared without them, so that all can be drawn."""
        players = self.players(fmt)
        made: dict[str, int] = {}
        for slot, members in self.members.items():
            count = players.get(slot, 0)
            found = _shared(count, _tonight(slot, count, members))
            made |= _shared(count, _unbound(members)) or {} if found is None else found
        return made

    def keys(self, slot: FormatSlot) -> list[str]:
        """The groups that share a slot, as they are written."""
        return [each.key for each in self.members.get(slot, ())]

    def added(self, fmt: Format) -> dict[FormatSlot, int]:
        """The players of `fmt` whom the design has no group for, by slot."""
        return {slot: count for slot, count in self._strangers(self.players(fmt)).items() if count}

    def waiting(self, fmt: Format, waiting: int) -> dict[str, int] | None:
        """Of which groups those are who wait beside one grid that plays `fmt`; None where the groups cannot hold them."""
        playing = self.counts(fmt, added=True)
        if playing is None:
            return None
        room = []
        for each in (each for members in self.members.values() for each in members):
            there = playing[each.key]
            most = None if each.bounds.most is None else each.bounds.most - there
            room.append(_Member(each.key, Bounds(0, most), Fraction(max(2 * there, 1), 2)))
        found = _shared(waiting, room)
        return None if found is None else {key: count for key, count in found.items() if count}

    def off(self, fmt: Format, waiting: int) -> dict[str, int]:
        """The same, and never None: where the groups' bounds cannot hold them, by how many of each play."""
        held = self.waiting(fmt, waiting)
        if held is not None:
            return held
        playing = self.spread(fmt)
        every = (each for members in self.members.values() for each in members)
        free = [
            _Member(each.key, Bounds(0, None), Fraction(max(2 * playing[each.key], 1), 2)) for each in every
        ]
        return {key: count for key, count in (_shared(waiting, free) or {}).items() if count}

    def players(self, fmt: Format) -> dict[FormatSlot, int]:
        """The players of `fmt` by slot, as this drill tells the slots apart."""
        found: dict[FormatSlot, int] = {}
        for slot, count in slot_players(fmt).items():
            taken = slot if slot in self.members or slot.where == "keeper" else self._other(slot)
            found[taken] = found.get(taken, 0) + count
        return found

    def _other(self, slot: FormatSlot) -> FormatSlot:
        return (
            FormatSlot(slot.side, "inside") if FormatSlot(slot.side, "outside") not in self.members else slot
        )

    def _strangers(self, players: Mapping[FormatSlot, int]) -> dict[FormatSlot, int]:
        return {slot: count for slot, count in players.items() if slot not in self.members}


def roster_of(document: DrillDocument) -> GroupRoster:
    """The groups of a played document, for many formats. Raises UnclearFormat."""
    slots = slots_of(document)
    groups = player_groups(document)
    first = GroupRoster(dict(_members(slots, groups, _designed)), ())
    design: dict[str, int] = {}
    players = first.players(Format.parse(document.format))
    for slot, members in first.members.items():
        design |= _shared(players.get(slot, 0), members) or {}
    bounds = group_bounds(document)

    def tonight(group: Group) -> _Member:
        count = design.get(group.key)
        least, most = bounds[group.key]
        if group.place is GroupHome.QUEUE:  # the least counts those who wait as well
            least = min(least, 1 if count is None else count)
        share = _middle(group) if count is None else Fraction(count)
        return _Member(group.key, Bounds(least, most), max(share, Fraction(1, 2)))

    homeless = tuple(bounds[each.key] for each in groups if slots[each.key] is None)
    return GroupRoster(dict(_members(slots, groups, tonight)), homeless)


def group_counts(document: DrillDocument, fmt: Format, *, added: bool = False) -> dict[str, int] | None:
    """How many of each group of a played document stand in one grid that plays `fmt`. See `Roster.counts`.

    Those who wait in turn come on top: a format counts who plays at one time. Raises UnclearFormat.
    """
    return roster_of(document).counts(fmt, added=added)


def _members(
    slots: Mapping[str, FormatSlot | None], groups: Sequence[Group], made: _Maker
) -> Iterator[tuple[FormatSlot, tuple[_Member, ...]]]:
    for slot in dict.fromkeys(slots.values()):
        if slot is not None:
            yield slot, tuple(made(each) for each in groups if slots[each.key] == slot)


def _designed(group: Group) -> _Member:
    return _Member(group.key, in_grid(group), max(_middle(group), Fraction(1, 2)))


def _middle(group: Group) -> Fraction:
    least, most = written(group)
    return Fraction(least + (most or 0), 2)


def _tonight(slot: FormatSlot, count: int, members: Sequence[_Member]) -> Sequence[_Member]:
    """Keepers are there or not: without one on the night nobody has to be in goal."""
    return _unbound(members) if slot.where == "keeper" and not count else members


def _unbound(members: Sequence[_Member]) -> list[_Member]:
    return [_Member(each.key, Bounds(0, None), each.share) for each in members]


def _shared(players: int, members: Sequence[_Member]) -> dict[str, int] | None:
    """So many players over the groups of one slot; None where their bounds do not hold so many."""
    if not total(each.bounds for each in members).holds(players):
        return None
    if len(members) == 1:
        return {members[0].key: players}
    counts = {each.key: each.bounds.least for each in members}
    for _ in range(players - sum(counts.values())):
        open_to = [
            each for each in members if each.bounds.most is None or counts[each.key] < each.bounds.most
        ]
        best = min(open_to, key=lambda each: (2 * counts[each.key] + 1) / each.share)
        counts[best.key] += 1
    return counts
