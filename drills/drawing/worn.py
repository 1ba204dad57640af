"""Players drawn by hand in the bibs of their groups: who drew them may have thought of other colours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import msgspec

from drills.game.groups import FormatSlot
from drills.game.places import Layout
from drills.game.scene import ScenePlayer


def in_bibs(players: Sequence[ScenePlayer], layout: Layout) -> list[ScenePlayer]:
    """The same players, each in the bib that is worn in this layout; the same objects where nothing changes."""
    seen: Counter[FormatSlot | str] = Counter()
    found = []
    for each in players:
        bib = _bib_tonight(each, layout, seen)
        found.append(each if not bib or bib == each.bib else msgspec.structs.replace(each, bib=bib))
    return found


def _bib_tonight(player: ScenePlayer, layout: Layout, seen: Counter[FormatSlot | str]) -> str:
    """What somebody wears; those in goal and those who wait are counted, since their groups are told by their order."""
    if player.kind == "adult":
        return ""
    if player.kind == "keeper":
        slot = FormatSlot(player.side, "keeper")
        seen[slot] += 1
        return layout.seat(slot, seen[slot] - 1).bib
    if player.place == "queue":
        seen["queue"] += 1
        waits = layout.waits[seen["queue"] - 1 :][:1]
        return waits[0][1].bib if waits else layout.bibs.get(player.side, "")
    return bib_of_group(player, layout) or layout.bibs.get(player.side, "")


def bib_of_group(player: ScenePlayer, layout: Layout) -> str:
    """What tells apart the groups of a side; what nobody wears tonight is the side's own colour."""
    worn = layout.worn.get(player.side, ())
    return player.bib if player.bib in worn else layout.bibs.get(player.side, "") if worn else ""
