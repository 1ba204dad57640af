"""What is asked for: the session's parts in order, the limits by name, pins, and what the club weighs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sessions.planning.load import CHANGEOVER_CR10
from sessions.planning.numbers import at_least, cr10, whole

# The limits that stand over the whole session; those over one part or one kind of kit carry its key behind a colon.
SESSION_LIMITS = (
    *("minutes", "load", "hardest", "headers", "set_up", "turn_out", "space", "adults", "once", "banned"),
    *("in_play", "in_play_all"),
)
# Floors of players in play, as shares: of whom no queue plans to be off, in each part; of everybody, over all the
# minutes of play. Common practice, no source.
PART_FLOOR, SESSION_FLOOR = 2 / 3, 3 / 4
_MAY_BE_UNSET = {
    "adults": "adults",
    "hardest": "hardest_cr10",
    "headers": "headers",
    "set_up": "set_up_minutes",
}
# How much a wish may count, as times its usual points (ours, a judgement: half and double are differences one can see).
HOW_MUCH: Mapping[str, float] = {"none": 0.0, "little": 0.5, "usual": 1.0, "lot": 2.0}
KIT, PIN, PART = "kit:", "pin:", "part:"
TENTHS = 10


@dataclass(frozen=True, slots=True)
class PartWish:
    """One part that the session shall have: its kind (arrival, warm-up, practice, game, cool-down) and its minutes.

    With `keepers_apart` it takes ways with the keepers at a station of their own, and none else does. Raises ValueError
    naming the field.
    """

    key: str
    kind: str
    least_minutes: int = 5
    most_minutes: int = 30
    keepers_apart: bool = False

    def __post_init__(self) -> None:
        if not self.key:
            raise ValueError("key: a part needs a key")
        whole("least_minutes", self.least_minutes, 1)
        whole("most_minutes", self.most_minutes, self.least_minutes)


@dataclass(frozen=True, slots=True)
class Pin:
    """What the coach has settled for one part: a drill, one variation of it, its minutes, or any of these.

    A pinned drill suits its part whatever the drill's kinds say, and pinned minutes stand above the ranges of part and
    drill. Raises ValueError naming the field, also for a variation without its drill.
    """

    part: str
    drill: str | None = None
    variation: str | None = None
    minutes: int | None = None

    def __post_init__(self) -> None:
        if self.minutes is not None:
            whole("minutes", self.minutes, 1)
        if self.drill is None and self.variation is not None:
            raise ValueError("variation: a variation is pinned together with its drill")


@dataclass(frozen=True, slots=True)
class WishWeights:
    """Points for what is wished for (ours, a judgement to be tested with coaches; the club may change them).

    theme, playing, rating and minutes are points a minute; moves and last_week are points a part; effort is points for each
    CR10 by which effort falls before its highest part or rises after it; fit is points for each unit of distance from the
    drill's design. Raises ValueError naming the field.
    """

    theme: float = 1.0
    playing: float = 0.5
    rating: float = 0.3
    minutes: float = 0.2
    moves: float = 4.0
    last_week: float = 8.0
    effort: float = 2.0
    fit: float = 5.0

    def __post_init__(self) -> None:
        for name in self.__slots__:
            at_least(name, getattr(self, name), 0)

    def counting(self, words: Mapping[str, str]) -> WishWeights:
        """The same where each name counts as much as its word of `HOW_MUCH` says; a name left out counts as usual.

        KeyError for an unknown word.
        """
        return replace(self, **{name: getattr(self, name) * HOW_MUCH[word] for name, word in words.items()})


@dataclass(frozen=True, slots=True)
class Request:
    """A session to be assembled. Minutes are whole; the space is what is free, in metres; None is "no limit".

    `minutes` holds parts, changeovers and clearing. `k` is the squad's factor (expected = plan × k, see
    `load.squad_factor`); `load_au` limits the expected load. `kit` lists what is there: a kind that it does not list is
    taken to be enough, as Fit does. `headers` counts per player. `set_up_minutes` is the time before the start, in which
    the first part is laid out, and what the changeovers can't hold (`options.set_up_before`). `in_play` is the least share
    of the players in play in every part, of those whom no queue plans to be off; `in_play_all` the least over all minutes
    of play. `waived` names limits that are let go of. Raises ValueError naming the field.
    """

    minutes: int
    players: int
    parts: tuple[PartWish, ...]
    length_m: float
    width_m: float
    adults: int | None = None
    kit: Mapping[str, int] | None = None
    load_au: float | None = None
    k: float = 1.0
    hardest_cr10: float | None = None
    headers: int | None = None
    set_up_minutes: int | None = None
    clear_minutes: int = 5
    changeover_minutes: int = 2
    same_cones_minutes: int = 1
    themes: Mapping[str, float] = field(default_factory=dict)
    pins: tuple[Pin, ...] = ()
    banned: frozenset[str] = frozenset()
    in_play: float = PART_FLOOR
    in_play_all: float = SESSION_FLOOR
    again: int = 1  # parts in which a drill of last week earns points
    weights: WishWeights = WishWeights()
    waived: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        self._check_numbers()
        keys = [part.key for part in self.parts]
        if not keys or len(set(keys)) != len(keys):
            raise ValueError("parts: a session has at least one part, and no two of the same key")
        if sum(part.keepers_apart for part in self.parts) > 1:
            raise ValueError("parts: the keepers are apart in one part at most")
        pinned = [pin.part for pin in self.pins]
        if len(set(pinned)) != len(pinned) or not set(pinned) <= set(keys):
            raise ValueError("pins: at most one for a part, and for parts that are there")
        for name in self.waived:
            if name not in SESSION_LIMITS and not name.startswith((KIT, PIN, PART)):
                raise ValueError(f"waived: no limit is called {name!r}")

    def _check_numbers(self) -> None:
        for name in ("minutes", "players", "clear_minutes", "same_cones_minutes", "again"):
            whole(name, getattr(self, name), 0)
        whole("changeover_minutes", self.changeover_minutes, self.same_cones_minutes)
        for name in ("length_m", "width_m", "k"):
            at_least(name, getattr(self, name), 0)
        for name in ("load_au", "headers", "set_up_minutes"):
            if getattr(self, name) is not None:
                at_least(name, getattr(self, name), 0)
        if self.adults is not None:
            whole("adults", self.adults, 0)
        if self.hardest_cr10 is not None:
            cr10("hardest_cr10", self.hardest_cr10)
        for name in ("in_play", "in_play_all"):
            if not 0 <= at_least(name, getattr(self, name), 0) <= 1:
                raise ValueError(f"{name}: a share, at most 1")
        for kind, count in (self.kit or {}).items():
            whole(f"kit {kind}", count, 0)
        for theme, weight in self.themes.items():
            at_least(f"themes {theme}", weight, 0)

    def without(self, *names: str) -> Request:
        """The same with these limits let go of."""
        return replace(self, waived=self.waived | set(names))

    def holds(self, name: str) -> bool:
        """Whether a limit is asked for and not let go of."""
        if name in self.waived:
            return False
        if name == "load":
            return self.load_au is not None and self.k != 0
        field_name = _MAY_BE_UNSET.get(name)
        return field_name is None or getattr(self, field_name) is not None

    @property
    def wanted(self) -> tuple[PartWish, ...]:
        """The parts in order, without those let go of."""
        return tuple(part for part in self.parts if PART + part.key not in self.waived)

    def pin(self, part: str) -> Pin | None:
        """The pin of a part, also when it is let go of."""
        return next((pin for pin in self.pins if pin.part == part), None)

    @property
    def most_load_tenths(self) -> int | None:
        """The budget for the *planned* load, in tenths of an AU: load_au ÷ k, rounded down."""
        if self.load_au is None or self.k == 0:
            return None
        return int(self.load_au / self.k * TENTHS + 1e-6)

    @property
    def changeover_load_tenths(self) -> int:
        """Tenths of an AU that a minute of changeover costs."""
        return round(CHANGEOVER_CR10 * TENTHS)
