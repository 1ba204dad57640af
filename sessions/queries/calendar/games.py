"""A team's matches, tournaments and training elsewhere, whether they came from a list of matches or were entered by hand."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from typing import Any
from uuid import UUID

from sessions.choices import Kind
from sessions.models import Fixture, LedgerEntry

MATCHES = (Kind.MATCH, Kind.TOURNAMENT)


@dataclass(frozen=True)
class Game:
    """What stands in weeks, blocks and calendars of it. `row` is a Fixture or, entered by hand, a LedgerEntry.

    `entry` is what was entered of it, by hand or beside the list.
    """

    row: Any
    squad_id: int
    day: date
    kind: str
    title: str  # never empty
    public_id: UUID
    starts: time | None = None
    ends: time | None = None
    place: str = ""
    is_off: bool = False
    entry: LedgerEntry | None = None

    @property
    def is_match(self) -> bool:
        """Whether it is to be played against others: not training elsewhere, and not called off."""
        return self.kind in MATCHES and not self.is_off

    @property
    def is_by_hand(self) -> bool:
        return isinstance(self.row, LedgerEntry)


def games(fixtures: Iterable[Fixture], ledger: Iterable[LedgerEntry]) -> list[Game]:
    """In order of time, each once: a match entered by hand on a day for which its team has one in the list is that one.

    Of several on a day the first entered is the first in the list, and so on; of what is off none. Of the ledger only what was
    entered by hand for whole teams counts. No query.
    """
    entered = sorted((each for each in ledger if _is_by_hand(each)), key=lambda each: (each.day, each.pk))
    beside: dict[tuple[int, date], list[LedgerEntry]] = {}
    for each in entered:
        if each.kind in MATCHES:
            beside.setdefault((each.squad_id, each.day), []).append(each)
    found = []
    for row in sorted(fixtures, key=lambda each: (each.day, each.starts or time.min, each.pk)):
        there = [] if row.is_off else beside.get((row.squad_id, row.day), [])
        found.append(_of_list(row, there.pop(0) if there else None))
    used = {each.entry.pk for each in found if each.entry}
    found += [_by_hand(each) for each in entered if each.pk not in used]
    return sorted(found, key=lambda each: (each.day, each.starts or time.min, str(each.public_id)))


def _is_by_hand(each: LedgerEntry) -> bool:
    return each.session_id is None and each.player_id is None and each.kind != Kind.TRAINING


def _of_list(row: Fixture, entry: LedgerEntry | None) -> Game:
    return Game(
        row=row,
        squad_id=row.squad_id,
        day=row.day,
        kind=row.kind,
        title=row.title or str(Kind(row.kind).label),
        public_id=row.public_id,
        starts=row.starts,
        ends=row.ends,
        place=row.place,
        is_off=row.is_off,
        entry=entry,
    )


def _by_hand(row: LedgerEntry) -> Game:
    return Game(
        row=row,
        squad_id=row.squad_id,
        day=row.day,
        kind=row.kind,
        title=row.title or str(Kind(row.kind).label),
        public_id=row.public_id,
        entry=row,
    )


def fixtures_between(
    first: date, last: date = date.max, *, squad_ids: Iterable[int] | None = None
) -> list[Fixture]:
    """Matches of the list from a day to another, both included, with their teams. One query."""
    rows = Fixture.objects.filter(day__range=(first, last)).select_related("squad")
    return list(rows if squad_ids is None else rows.filter(squad_id__in=list(squad_ids)))
