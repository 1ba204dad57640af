"""What teams have to share at one time: thirds of a pitch, and kit; and which slots compete for it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sessions.planning.blocks.asked import BlockRequest
from sessions.planning.blocks.choices import SlotChoice


@dataclass(frozen=True, slots=True)
class SharedLimit:
    """Slots that run at one moment and draw on one thing: `code` is "ground" or "kit", `of` the pitch or kind.

    `amount` is how much there is: thirds, or pieces.
    """

    code: str
    of: str
    slots: tuple[str, ...]
    amount: int

    def drawn(self, choice: SlotChoice) -> int:
        """How much of it one choice takes."""
        return choice.thirds if self.code == "ground" else choice.kit.get(self.of, 0)


def shared_limits(
    request: BlockRequest, choices: Mapping[str, Sequence[SlotChoice]]
) -> tuple[SharedLimit, ...]:
    """The limits that can bind at all: at each start of a slot, those that run then, where their most is too much."""
    by_day = defaultdict(list)
    for slot in request.slots:
        by_day[slot.day].append(slot)
    found: dict[tuple[str, str, tuple[str, ...]], SharedLimit] = {}
    for slots in by_day.values():
        for start in sorted({each.starts for each in slots}):
            running = [each for each in slots if each.starts <= start < each.ends]
            of_all = [("kit", kind, running, amount) for kind, amount in request.kit.items()]
            for pitch, thirds in request.pitches.items():
                of_all.append(("ground", pitch, [each for each in running if each.pitch == pitch], thirds))
            for code, of, there, amount in of_all:
                limit = SharedLimit(code, of, tuple(each.key for each in there), amount)
                most = {each.key: max(map(limit.drawn, choices[each.key]), default=0) for each in there}
                drawing = tuple(key for key in limit.slots if most[key])
                if sum(most.values()) > amount:
                    found[code, of, drawing] = SharedLimit(code, of, drawing, amount)
    return tuple(found.values())


def kept(limits: Sequence[SharedLimit], chosen: Mapping[str, SlotChoice]) -> bool:
    """Whether one choice a slot (by the slot's key) takes nowhere more than there is."""
    return all(
        sum(limit.drawn(chosen[slot]) for slot in limit.slots if slot in chosen) <= limit.amount
        for limit in limits
    )
