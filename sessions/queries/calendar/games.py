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
    """What stands in weeks, blocks and calendars of it. `row` is a Fixture or, entered by hand, a LedgerEntry."""

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

    @property
    def is_match(self) -> bool:
        """Whether it is to be played against others: not training elsewhere, and not called off."""
        return self.kind in MATCHES and not self.is_off

    @property
    def is_by_hand(self) -> bool:
        return isinstance(self.row, LedgerEntry)


def games(fixtures: Iterable[Fixture], ledger: Iterable[LedgerEntry]) -> list[Game]:
    """In order of time, each once: a match that was entered by hand on a day for which its team has one in the list is that one.

    Of the ledger only what was entered by hand for whole teams counts. No query.
    """
    found = [_of_list(each) for each in fixtures]
    listed = {(each.squad_id, each.day) for each in found if not each.is_off}
    found += [
        _by_hand(each)
        for each in ledger
        if each.session_id is None
        and each.player_id is None
        and each.kind != Kind.TRAINING
        and not (each.kind in MATCHES and (each.squad_id, each.day) in listed)
    ]
    return sorted(found, key=lambda each: (each.day, each.starts or time.min, str(each.public_id)))


def _of_list(row: Fixture) -> Game:
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
    )


def _by_hand(row: LedgerEntry) -> Game:
    return Game(
        row=row,
        squad_id=row.squad_id,
        day=row.day,
        kind=row.kind,
        title=row.title or str(Kind(row.kind).label),
        public_id=row.public_id,
    )


def fixtures_between(
    first: date, last: date = date.max, *, squad_ids: Iterable[int] | None = None
) -> list[Fixture]:
    """Matches of the list from a day to another, both included, with their teams. One query."""
    rows = Fixture.objects.filter(day__range=(first, last)).select_related("squad")
    return list(rows if squad_ids is None else rows.filter(squad_id__in=list(squad_ids)))
