"""The club's kit that Fit and a search count with."""

from collections.abc import Iterable, Mapping

from club import queries as club
from drills.game.fit.kit import BIBS
from drills.queries.wanted import DrillSearch

Stock = Mapping[str, int]


def club_stock() -> dict[str, int]:
    """What the club has counted, by kind: whatever it lists, and bibs as soon as there are some. One query."""
    return counted(club.kit_stock())


def counted(stock: Mapping[str, int]) -> dict[str, int]:
    """What limits Fit of a stock: a kind that is listed counts, none of it too; no bibs at all means not counted yet."""
    return {kind: count for kind, count in stock.items() if count or kind != BIBS}


def asks_for_stock(wanted: DrillSearch) -> bool:
    """Whether a search counts with the club's kit: where no other was named for tonight."""
    return wanted.asks_for_room and not wanted.kit


def stock_for(wanted: DrillSearch, counts: Iterable[tuple[str, int]] | None = None) -> dict[str, int]:
    """The kit that a search counts with. At most one query, none with the club's `counts` at hand."""
    if not asks_for_stock(wanted):
        return dict(wanted.kit)
    return club_stock() if counts is None else counted(club.kit_of(counts))
