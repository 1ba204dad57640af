"""Kit that is needed at the same time, against the kit that is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sessions.planning.numbers import whole
from sessions.planning.plan import PlannedPart
from sessions.planning.reasons import PlanningReason, reason


@dataclass(frozen=True, slots=True)
class Shortage:
    """Too little of one kind of kit in one part, in pieces."""

    part: str
    kind: str
    needed: int
    there: int
    listed: bool

    @property
    def short(self) -> int:
        """Pieces that are missing."""
        return self.needed - self.there

    @property
    def reason(self) -> PlanningReason:
        """The shortage in words, beside its part."""
        if not self.listed:
            return reason("kit_unknown", part=self.part, needed=self.needed, kind=self.kind)
        return reason(
            "kit_short",
            self.part,
            (reason("clear_kit", self.part, short=self.short),),
            needed=self.needed,
            kind=self.kind,
            there=self.there,
            short=self.short,
        )


def needed_at_once(kits: Iterable[Mapping[str, int]]) -> dict[str, int]:
    """Kit of stations that run at the same time, added up, in the order of the kinds' names. ValueError for a count below 0."""
    total: Counter[str] = Counter()
    for kit in kits:
        for kind, count in kit.items():
            total[kind] += whole(f"kit {kind}", count, 0)
    return {kind: total[kind] for kind in sorted(total) if total[kind]}


def to_carry(parts: Sequence[PlannedPart], laid: Mapping[str, int] | None = None) -> dict[str, int]:
    """What the bag must hold for a whole session: of each kind the most that is out at the same time.

    That is what one part needs at once, or more where kit of a later part is `laid` beside it already.
    """
    most = dict(laid or {})
    for part in parts:
        for kind, count in needed_at_once(part.station_kit).items():
            most[kind] = max(most.get(kind, 0), count)
    return dict(sorted(most.items()))


def shortages(
    parts: Sequence[PlannedPart], stock: Mapping[str, int], elsewhere: Iterable[Mapping[str, int]] = ()
) -> tuple[Shortage, ...]:
    """Where a part needs more than is there; `elsewhere` is kit that other sessions hold at the same time.

    In the order of the parts, then of the kinds' names. Raises ValueError for a count below 0.
    """
    taken = needed_at_once(elsewhere)
    found = []
    for part in parts:
        for kind, count in needed_at_once(part.station_kit).items():
            there = max(0, whole(f"stock {kind}", stock.get(kind, 0), 0) - taken.get(kind, 0))
            if count > there:
                found.append(Shortage(part.key, kind, count, there, kind in stock))
    return tuple(found)
