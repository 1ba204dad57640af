"""Why there is no session: the smallest set of limits that clash, and what would clear each of them.

Every question is "can these limits hold together?", answered over the options that cost least (`cheapest_options`). A clash
is shrunk by leaving limits out one after the other, then a smaller one is looked for from the other side: a set that meets
every way out known so far is tried, and when it can hold together, what it leaves out is one more way out to be met. (One
model with a literal for each limit, assumed or not, answers the same; it was measured some fifty times as slow.)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from itertools import combinations, groupby

from sessions.planning.assemble.cheapest_options import cheapest_options
from sessions.planning.assemble.feasible import Feasibility, can_be, least_sum
from sessions.planning.assemble.library import Offer
from sessions.planning.assemble.options import Expansion, Option, fewest_of
from sessions.planning.assemble.request import PART, PIN, Request

AMOUNTS = ("minutes", "load", "headers", "set_up")
ALL = "in_play_all"
SUMS = (*AMOUNTS, ALL)
MOST_LOOKS = 60  # sets that are tried before a smaller clash is no longer looked for
NO_LIMIT = 10_000


@dataclass(frozen=True, slots=True)
class LimitClash:
    """`names` cannot hold together, and any one less of them can; `smallest` when no smaller set clashes.

    `clears` holds those of them that, let go of alone, make a session possible with everything else kept; the value is the
    least that would do where the limit is an amount (minutes, AU expected, headers), else None. `let_go` is a set of limits
    without which a session is possible, none of which could be kept. `nothing_for` are parts that nothing suits at all.
    `off`, where the floor of players in play clashes: the part in which most must be off, and how many at the least.
    """

    names: tuple[str, ...]
    smallest: bool
    clears: dict[str, float | None] = field(default_factory=dict)
    let_go: tuple[str, ...] = ()
    nothing_for: tuple[str, ...] = ()
    off: tuple[str, int] | None = None


class _Unsure(Exception):
    """The time ran out before a question was answered, or nobody waits for the answer any more."""


class _Limits:
    """Questions about which limits can hold together; none is answered twice."""

    def __init__(
        self,
        request: Request,
        parts: Sequence[Sequence[Option]],
        longer: Callable[[], Sequence[Sequence[Option]]] | None,
        seconds: float,
        going_on: Callable[[], bool] | None = None,
    ) -> None:
        """`parts` have the fewest minutes of each option, `longer` all that may make good for who is off elsewhere."""
        self.request, self.left_s, self.going_on = request, seconds, going_on or (lambda: True)
        self.parts, self._longer = cheapest_options(request, parts), longer
        broken = {name for options in parts for option in options for name in option.broken}
        held = [name for name in (*SUMS, "once") if request.holds(name)]
        self.names = (*held, *sorted(broken, key=lambda name: (name.startswith(PIN), name)))
        self._known: dict[frozenset[str], bool] = {}

    def together(self, names: Iterable[str]) -> bool:
        """Whether a session can keep these limits."""
        asked = frozenset(names)
        for known, answer in self._known.items():
            if (answer and asked <= known) or (not answer and known <= asked):
                return answer
        answer = self._count(can_be(*self._only(asked), seconds=self.left_s)).yes
        # Longer minutes help with nothing but that floor: they are asked where all else can hold together.
        if not answer and self._longer is not None and ALL in asked and self.together(asked - {ALL}):
            answer = self._count(can_be(*self._only(asked, of=self.all_parts), seconds=self.left_s)).yes
        self._known[asked] = answer
        return answer

    @cached_property
    def all_parts(self) -> list[list[Option]]:
        """With longer minutes too; made when it is asked for, since the fewest often answer."""
        return self.parts if self._longer is None else cheapest_options(self.request, self._longer())

    def beside(self, names: Iterable[str]) -> frozenset[str]:
        """With these held, others to let go of so that there is a session; not one of them too many."""
        held = list(names)
        for name in self.names:
            if name not in held and self.together([*held, name]):
                held.append(name)
        return frozenset(self.names) - set(held)

    def least(self, name: str) -> float | None:
        """The least that a limit on a sum would have to be with all others held; None for other kinds of limits."""
        if name not in AMOUNTS:
            return None
        least = self._least(name, self.names, self.parts)
        if self._longer is not None and ALL in self.names:
            # No less would do without the floor: then longer minutes can't do with less either.
            below = self._least(name, [each for each in self.names if each != ALL], self.parts)
            if least is None or least != below:
                least = self._least(name, self.names, self.all_parts)
        return None if least is None else self._in_units(name, least)

    def _least(self, name: str, names: Iterable[str], parts: list[list[Option]]) -> int | None:
        request, left = self._only(names, without=name, of=parts)
        return self._count(least_sum(_wide(request, name), left, name, seconds=self.left_s)).least

    def _in_units(self, name: str, least: int) -> float:
        """Expected AU of a planned sum; other sums as they are."""
        return least * self.request.k / 10 if name == "load" else float(least)

    def _only(
        self, names: Iterable[str], without: str = "", of: list[list[Option]] | None = None
    ) -> tuple[Request, list[list[Option]]]:
        """The request with these limits alone, and the options that break none of them."""
        held = frozenset(names) - {without}
        request = self.request.without(*(name for name in self.names if name not in held and name != without))
        parts = [
            [option._replace(broken=frozenset()) for option in options if not option.broken & held]
            for options in of or self.parts
        ]
        return request, parts

    def _count(self, answer: Feasibility) -> Feasibility:
        self.left_s -= answer.spent_s
        if answer.unsure or not self.going_on():
            raise _Unsure
        return answer


def clash(
    request: Request, library: Sequence[Offer], *, seconds: float, going_on: Callable[[], bool] | None = None
) -> LimitClash | None:
    """The clash of a request that no session keeps; None when one does, or when the solver's `seconds` did not suffice to
    say.

    `going_on` is asked after each question and may end it, with None too.
    """
    expansion = Expansion(request, library)
    parts = expansion.parts(minutes=fewest_of, broken_too=True)
    nothing = tuple(part.key for part, options in zip(request.wanted, parts, strict=True) if not options)
    if nothing:
        return LimitClash((PART + nothing[0],), smallest=True, nothing_for=nothing)
    longer = partial(_longer, expansion) if _some_below(request, library) else None
    limits = _Limits(request, parts, longer, seconds, going_on)
    try:
        if limits.together(limits.names):
            return None
        alone = [name for name in limits.names if _clears(limits, name)]
        let_go = frozenset(alone[:1]) or limits.beside(())
        names, smallest = _smallest(limits, _shrunk(limits), [*map(frozenset, zip(alone)), let_go])
        clears = {name: limits.least(name) for name in names if name in alone}
    except _Unsure:
        return None
    return LimitClash(
        names,
        smallest,
        clears,
        tuple(name for name in limits.names if name in let_go),
        off=_off(request, library, parts, names) if "in_play" in names else None,
    )


def _some_below(request: Request, library: Sequence[Offer]) -> bool:
    """Whether longer play of one part may have to make good for who is off in another; else the fewest minutes do."""
    floor = request.in_play_all if request.holds("in_play_all") else 0.0
    return any(way.playing_share < floor for offer in library for way in offer.ways)


def _longer(expansion: Expansion) -> list[list[Option]]:
    """Every option with its fewest minutes, and with all that bring more players into play over the session."""
    return [
        [
            option
            for _, same in groupby(options, key=lambda each: (each.offer, each.way))
            for option in _worth_it(list(same))
        ]
        for options in (sorted(each, key=_by_way) for each in expansion.parts(broken_too=True))
    ]


def _by_way(option: Option) -> tuple[int, int, int]:
    return option.offer, option.way, option.minutes


def _worth_it(spells: Sequence[Option]) -> list[Option]:
    first = spells[0]
    return [
        first,
        *(each for each in spells[1:] if each.in_play_all < first.in_play_all or each.broken != first.broken),
    ]


def _off(
    request: Request, library: Sequence[Offer], parts: Sequence[Sequence[Option]], names: Sequence[str]
) -> tuple[str, int] | None:
    """The part in which most must be off, and how many at the least, with the other limits of the clash kept."""
    others = frozenset(names) - {"in_play"}
    found = []
    for wish, options in zip(request.wanted, parts, strict=True):
        left = [option for option in options if not option.broken & others]
        if left and all("in_play" in option.broken for option in left):
            fewest = min(library[option.offer].ways[option.way].off for option in left)
            found.append((wish.key, fewest))
    return max(found, key=lambda each: each[1], default=None)


def _wide(request: Request, name: str) -> Request:
    """The request with so high a limit on a sum that it does not count."""
    match name:
        case "minutes":
            return replace(request, minutes=NO_LIMIT)
        case "load":
            return replace(request, load_au=float(NO_LIMIT))
        case "headers":
            return replace(request, headers=NO_LIMIT)
        case _:
            return replace(request, set_up_minutes=NO_LIMIT)


def _clears(limits: _Limits, name: str) -> bool:
    return limits.together(other for other in limits.names if other != name)


def _shrunk(limits: _Limits) -> tuple[str, ...]:
    """Leave out one after the other what is not needed for the clash."""
    core = limits.names
    for name in limits.names:
        rest = tuple(other for other in core if other != name)
        if not limits.together(rest):
            core = rest
    return core


def _smallest(
    limits: _Limits, core: tuple[str, ...], ways_out: list[frozenset[str]]
) -> tuple[tuple[str, ...], bool]:
    """The smallest set that clashes, at most as large as the one known; and whether that was looked for to the end."""
    for _ in range(MOST_LOOKS):
        tried = _meeting_all(ways_out, limits.names, len(core) - 1)
        if tried is None:
            return core, True
        if not limits.together(tried):
            return tried, True
        ways_out.append(limits.beside(tried))
    return core, False


def _meeting_all(
    ways_out: Sequence[frozenset[str]], names: Sequence[str], most: int
) -> tuple[str, ...] | None:
    """The smallest set of at most so many names with one at least from every way out."""
    of_some = [name for name in names if any(name in way for way in ways_out)]
    for size in range(1, most + 1):
        for tried in combinations(of_some, size):
            if all(not way.isdisjoint(tried) for way in ways_out):
                return tried
    return None
