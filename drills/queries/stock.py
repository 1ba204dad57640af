"""The club's kit that a search counts with."""

from collections.abc import Iterable, Mapping

from club import queries as club
from drills.game.fit.kit import BIBS
from drills.queries.wanted import DrillSearch

Stock = tuple[tuple[str, int], ...] | None


def club_stock() -> dict[str, int] | None:
    """The club's kit by kind; None where none was counted yet. One query."""
    return _counted(club.kit_stock())


def _counted(stock: Mapping[str, int]) -> dict[str, int] | None:
    return {kind: count for kind, count in stock.items() if count or kind != BIBS} or None


def frozen_stock() -> Stock:
    """The club's kit as a remembered call takes it."""
    return _frozen(club_stock())


def _frozen(stock: dict[str, int] | None) -> Stock:
    return None if stock is None else tuple(sorted(stock.items()))


def asks_for_stock(wanted: DrillSearch) -> bool:
    """Whether a search counts with the club's kit: where no other was named for tonight."""
    return wanted.asks_for_room and not wanted.kit


def stock_for(wanted: DrillSearch, counts: Iterable[tuple[str, int]] | None = None) -> Stock:
    """The kit that a search counts with. At most one query, none with the club's `counts` at hand."""
    if not asks_for_stock(wanted):
        return wanted.kit or None
    return frozen_stock() if counts is None else _frozen(_counted(club.kit_of(counts)))
