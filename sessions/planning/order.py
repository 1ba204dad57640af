"""The order of a session's parts: a first division of its minutes over them, for a coach to change, and what goes along with
a part and what stays at its place when they are put in another order.

A changeover lies between two parts: it stays where it is while parts are moved past it, so the evening takes as long as
before. A game is a game wherever it stands; the other kinds (arrival, warm-up, practice, cool-down) say when in the evening a
part is, so they keep their order among themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.planning.numbers import at_least

# Shares of the minutes and CR10 by a part's place in the order (common practice, no source).
SHARES = {"arrival": 1.0, "warm-up": 1.0, "practice": 2.0, "game": 2.0, "cool-down": 0.5}
EFFORTS = {"arrival": 3.0, "warm-up": 4.0, "practice": 5.0, "game": 6.0, "cool-down": 2.0}
LEAST_MINUTES = 5  # of a part (common practice, no source)
DEFAULT_ORDER = ("arrival", "practice", "game")
GOES_ALONG = "game"  # the kind that stays with its part


@dataclass(frozen=True, slots=True)
class Slice:
    """One empty part: its place in the order, minutes, CR10, and seconds to change over into it."""

    kind: str
    minutes: int
    cr10: float
    changeover_s: int


def slices(
    order: Sequence[str], *, minutes: float, clear_minutes: float, changeover_s: int
) -> tuple[Slice, ...]:
    """Share `minutes` out over the parts named in `order`; clearing and changeovers come off first.

    Whole minutes, rounded down, at least 5 each, so a very short session may come out over its minutes, and says
    so itself. ValueError for an unknown part or negative times.
    """
    kinds = tuple(order) or DEFAULT_ORDER
    for kind in kinds:
        if kind not in SHARES:
            raise ValueError(f"order: there is no part called {kind!r}")
    changing = at_least("changeover_s", changeover_s, 0) * (len(kinds) - 1) / 60
    left = at_least("minutes", minutes, 0) - at_least("clear_minutes", clear_minutes, 0) - changing
    whole = sum(SHARES[kind] for kind in kinds)
    return tuple(
        Slice(
            kind=kind,
            minutes=max(LEAST_MINUTES, int(left * SHARES[kind] / whole)),
            cr10=EFFORTS[kind],
            changeover_s=usual_changeover_s(index, changeover_s),
        )
        for index, kind in enumerate(kinds)
    )


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the new order, in numbers of the order before, which count from 0.

    `part` is the part that stands here, `kind` the one whose kind it has, `changeover` the one whose changeover leads
    into it. None: a new part with a kind of its own; a changeover as long as usual (`usual_changeover_s`).
    """

    part: int | None
    kind: int | None
    changeover: int | None


def usual_changeover_s(position: int, between_s: int) -> int:
    """Seconds to change over into the part at a place (from 0): none into the first, else the club's `between_s`."""
    return between_s if position else 0


def moved(kinds: Sequence[str], at: int, to: int) -> tuple[Place, ...]:
    """The places after the part at `at` was taken out and put in again at `to`. IndexError for a place that isn't there."""
    _there(at, len(kinds))
    _there(to, len(kinds))
    order = list(range(len(kinds)))
    order.insert(to, order.pop(at))
    staying = iter([number for number, kind in enumerate(kinds) if kind != GOES_ALONG])
    return tuple(
        Place(part, part if kinds[part] == GOES_ALONG else next(staying), position)
        for position, part in enumerate(order)
    )


def removed(count: int, at: int) -> tuple[Place, ...]:
    """The places of `count` parts without the one at `at`; the changeover into it goes too, of the first part the one
    behind it. IndexError for a place that isn't there.
    """
    _there(at, count)
    gone = at or 1
    parts = [number for number in range(count) if number != at]
    changeovers = [number for number in range(count) if number != gone]
    return tuple(Place(part, part, changeover) for part, changeover in zip(parts, changeovers, strict=False))


def inserted(count: int, at: int) -> tuple[Place, ...]:
    """The places of `count` parts with a new one at `at` (`count`: at the end). It has the usual changeover; before the
    first part it takes that part's place, and the usual one lies behind it. IndexError for a place that isn't there.
    """
    _there(at, count + 1)
    changeovers: list[int | None] = [*range(count)]
    changeovers.insert(min(at or 1, count), None)
    parts: list[int | None] = [*range(count)]
    parts.insert(at, None)
    return tuple(Place(part, part, changeover) for part, changeover in zip(parts, changeovers, strict=True))


def filled_by(kinds: Sequence[str], waits: Sequence[bool], kind: str) -> int | None:
    """The part that a drill of a kind fills where nobody says where it goes: the first of this kind that `waits` for a
    drill, else the first that does; None where none does, so that it comes at the end as a part of its own.
    """
    waiting = [number for number, each in enumerate(waits) if each]
    return next((number for number in waiting if kinds[number] == kind), next(iter(waiting), None))


def _there(at: int, count: int) -> None:
    if not 0 <= at < count:
        raise IndexError(f"at: there is no place {at} among {count}")
