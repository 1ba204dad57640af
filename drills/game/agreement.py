"""Where a drill's format, its numbers and its groups do not say the same. Each problem names the row that would clear it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drills.game.document.choices import GroupHome, NumbersKind, PlaysFor
from drills.game.document.content import Group, Numbers
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.groups import (
    Bounds,
    FormatSlot,
    in_grid,
    player_groups,
    side_of,
    slots_of,
    total,
    varies,
    written,
)
from drills.game.problem import Problem
from drills.game.roster import roster_of
from drills.game.wording.shapes import Part, Sentence


def disagreements(document: DrillDocument, fmt: Format) -> Iterator[Problem]:
    """Contradictions of the format, read as `fmt`, with groups and numbers. A drill without groups has none of the first."""
    if not _clear(document):
        return
    if player_groups(document):
        yield from _homeless(document)
        yield from _missing(document, fmt)
        yield from _slots(document, fmt)
    if document.numbers.kind is not NumbersKind.EXACT and _in_order(document.numbers):
        yield from _numbers(document, fmt)


def _homeless(document: DrillDocument) -> Iterator[Problem]:
    slots = slots_of(document)
    for group in player_groups(document):
        if slots[group.key] is not None:
            continue
        parts: dict[str, Part] = {"name": group.name, "format": document.format}
        if group.plays_for is PlaysFor.ITSELF:
            said = Sentence("group_without_side", parts)
        else:
            said = Sentence(
                "group_without_players", {**parts, "slot": _said(FormatSlot(side_of(group), "inside"))}
            )
        yield Problem(_field(document, group, "plays_for"), said)


def _missing(document: DrillDocument, fmt: Format) -> Iterator[Problem]:
    """Players of the format whom no group is for."""
    for slot, players in roster_of(document).added(fmt).items():
        parts: dict[str, Part] = {"format": document.format, "players": players, "slot": _said(slot)}
        yield Problem("groups", Sentence("players_without_group", parts))


def _slots(document: DrillDocument, fmt: Format) -> Iterator[Problem]:
    """Side by side: what the groups of one slot hold against its players."""
    players, slots = roster_of(document).players(fmt), slots_of(document)
    for slot in dict.fromkeys(each for each in slots.values() if each):
        groups = [each for each in player_groups(document) if slots[each.key] == slot]
        bounds = total(in_grid(each) for each in groups)
        if bounds.holds(players.get(slot, 0)):
            continue
        parts: dict[str, Part] = {
            "format": document.format,
            "players": players.get(slot, 0),
            "count": _counted(bounds),
        }
        if len(groups) == 1:
            said = Sentence("group_against_format", {**parts, "name": groups[0].name})
        else:
            names = tuple(Sentence("group_called", {"name": each.name}) for each in groups)
            said = Sentence("groups_against_format", {**parts, "names": names})
        yield Problem(_field(document, _changeable(groups), "least"), said)


def _numbers(document: DrillDocument, fmt: Format) -> Iterator[Problem]:
    """The format within the drill's range, and the range within what the groups can be."""
    numbers, groups = document.numbers, player_groups(document)
    waits = document.queue is not None or any(each.place is GroupHome.QUEUE for each in groups)
    # Where players wait in turn the format is who plays at one time, which may be fewer than the drill is for.
    fewest = 1 if waits else (numbers.least or 1)
    if not Bounds(fewest, numbers.most).holds(fmt.players):
        parts: dict[str, Part] = {
            "numbers": _range(numbers),
            "format": document.format,
            "players": fmt.players,
        }
        yield Problem("numbers", Sentence("format_beyond_numbers", parts))
    low, high = total(written(each) for each in groups)
    least, most = numbers.least or low, numbers.most or high
    if not groups or (low <= least and (most or 0) <= (high or 0)):
        return
    range_: dict[str, Part] = {"numbers": _range(numbers)}
    if not varies(document):
        yield Problem(_field(document, _changeable(groups), "most"), Sentence("groups_all_fixed", range_))
        return
    said = Sentence("groups_beyond_numbers", {**range_, "low": low, "high": high or 0})
    yield Problem(_field(document, _changeable(groups), "least" if low > least else "most"), said)


def _clear(document: DrillDocument) -> bool:
    """Whether groups can be counted at all; a key there twice and a most below the least are said elsewhere."""
    keys = [each.key for each in document.groups]
    bounds = [written(each) for each in document.groups]
    return len(set(keys)) == len(keys) and all(each.holds(each.least) for each in bounds)


def _in_order(numbers: Numbers) -> bool:
    """Whether the range can be read at all; what is wrong with it otherwise is said elsewhere."""
    least, most = numbers.least, numbers.most
    if least is None or most is None:
        return numbers.kind is NumbersKind.ANYONE
    return least <= most


def _changeable(groups: Iterable[Group]) -> Group:
    """The group that one would change first: one with a range, else one without a role, else the last."""
    every = list(groups)
    ranged = (each for each in every if each.most is not None and each.most > each.least)
    free = (each for each in every if not each.role)
    return next(ranged, next(free, every[-1]))


def _field(document: DrillDocument, group: Group, name: str) -> str:
    return f"groups[{document.groups.index(group)}].{name}"


def _counted(bounds: Bounds) -> Part:
    if bounds.most is None or bounds.least == bounds.most:
        return bounds.least
    return Sentence("from_to", {"least": bounds.least, "most": bounds.most})


def _said(slot: FormatSlot) -> Sentence:
    if slot.side == "neutral":
        return Sentence("slot_neutral")
    return Sentence(f"slot_{slot.where}", {"side": Sentence(f"side_{slot.side}")})


def _range(numbers: Numbers) -> Sentence:
    if numbers.least is None and numbers.most is None:
        return Sentence("numbers_anyone")
    if numbers.least is None or numbers.most is None:
        key = "numbers_most" if numbers.least is None else "numbers_least"
        return Sentence(key, {"n": numbers.least or numbers.most or 0})
    return Sentence("numbers_range", {"least": numbers.least, "most": numbers.most})
