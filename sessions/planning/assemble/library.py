"""What the library offers: drills in one variation each, and the ways to run them that Fit found beforehand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from sessions.planning.numbers import at_least, cr10, whole

LastWeek = Literal["", "same rung", "one rung up"]


@dataclass(frozen=True, slots=True)
class Apart:
    """Keepers at a station of their own, with a drill for keepers, while the others play theirs beside it.

    `keepers` and `others` are the two ways, each on its own ground; `drill` is the keepers' and no offer's. Themes and
    rating are those of the keepers' drill. Grounds are what each was fitted on (length, width), kept for whoever takes it.
    """

    drill: str
    title: str
    keepers: Way
    others: Way
    effort_cr10: float
    variation: str = ""
    set_up_minutes: int = 0
    headers_per_player: int = 0
    themes: Mapping[str, float] = field(default_factory=dict)
    rating: float | None = None
    keepers_ground_m: tuple[float, float] = (0.0, 0.0)
    others_ground_m: tuple[float, float] = (0.0, 0.0)

    @property
    def share(self) -> float:
        """The keepers' share of the players, 0 to 1."""
        return self.keepers.players / (self.keepers.players + self.others.players)

    def between(self, keepers: float, others: float) -> float:
        """A value of both stations as their average over the players, in the same unit."""
        return others + (keepers - others) * self.share


@dataclass(frozen=True, slots=True)
class Way:
    """One way to run a drill: a set-up of Fit, computed by the caller.

    `length_m` and `width_m` are the room that it takes, outside players and all grids included. `playing_share` is the
    share of the players in play on average (0 to 1), `off_by_plan` the share that the drill itself may leave off (who
    stands in a queue, waits for the next wave), `distance` Fit's distance from the design. `cones` is equal for two ways
    whose marking can stay as it is; "" is equal to nothing. `apart` is set where two stations run at the same time (see
    `apart.apart`): the other values are then those of both together. Raises ValueError naming the field.
    """

    players: int
    format: str
    length_m: float
    width_m: float
    grids: int = 1
    adults: int = 1
    kit: Mapping[str, int] = field(default_factory=dict)
    playing_share: float = 1.0
    off_by_plan: float = 0.0
    distance: float = 0.0
    cones: str = ""
    apart: Apart | None = None
    grid_m: tuple[float, float] | None = (
        None  # length and width of its first grid; None: all the room is one grid
    )

    def __post_init__(self) -> None:
        for name in ("players", "grids"):
            whole(name, getattr(self, name), 1)
        whole("adults", self.adults, 0)
        for name in ("length_m", "width_m", "distance"):
            at_least(name, getattr(self, name), 0)
        if not 0 <= at_least("playing_share", self.playing_share, 0) <= 1:
            raise ValueError(f"playing_share: must be at most 1, not {self.playing_share:g}")
        if not 0 <= at_least("off_by_plan", self.off_by_plan, 0) < 1:
            raise ValueError(f"off_by_plan: must be below 1, not {self.off_by_plan:g}")
        for kind, count in self.kit.items():
            whole(f"kit {kind}", count, 0)

    @property
    def off(self) -> int:
        """How many of its players are off at a time, whether planned or not."""
        return round(self.players * (1 - self.playing_share))

    def keeps(self, floor: float) -> bool:
        """Whether at least a share `floor` of those whom the drill itself does not leave off is in play."""
        return self.playing_share >= floor * (1 - self.off_by_plan) - 1e-9

    @property
    def size_m(self) -> tuple[float, float]:
        """Length and width of the first grid: what a coach is told of its size."""
        return self.grid_m or (self.length_m, self.width_m)


@dataclass(frozen=True, slots=True)
class Offer:
    """One drill in one variation. `effort_cr10` is counted in tenths; `rating` lies between 0 and 1, None is unrated.

    `kinds` are the kinds of part that it suits; `themes` tells how much of it is on a theme (0 to 1); minutes run from
    `least_minutes` in steps to `most_minutes`. Raises ValueError naming the field.
    """

    key: str
    drill: str
    title: str
    kinds: frozenset[str]
    effort_cr10: float
    ways: tuple[Way, ...]
    variation: str = ""
    least_minutes: int = 8
    most_minutes: int = 20
    step_minutes: int = 1
    set_up_minutes: int = 0
    headers_per_player: int = 0
    themes: Mapping[str, float] = field(default_factory=dict)
    rating: float | None = None
    heard: tuple[int, int] = (0, 0)  # coaches for whom it worked, of those who said how it went
    last_week: LastWeek = ""

    def __post_init__(self) -> None:
        if not (self.key and self.drill):
            raise ValueError("key: an offer needs its own key and its drill's")
        cr10("effort_cr10", self.effort_cr10)
        whole("least_minutes", self.least_minutes, 1)
        whole("most_minutes", self.most_minutes, self.least_minutes)
        whole("step_minutes", self.step_minutes, 1)
        whole("set_up_minutes", self.set_up_minutes, 0)
        whole("headers_per_player", self.headers_per_player, 0)
        for name, share in (*self.themes.items(), ("rating", self.rating or 0)):
            if not 0 <= share <= 1:
                raise ValueError(f"{name}: lies between 0 and 1, not {share:g}")

    @property
    def effort_tenths(self) -> int:
        """Effort in tenths of the CR10 scale."""
        return round(self.effort_cr10 * 10)


def rating_of(worked: int, tried: int) -> float:
    """A rating from 0 to 1 out of who said that a drill worked, with one voice for and one against put beside them.

    That is Laplace's rule of succession: nobody heard is 0.5, as unrated; one voice alone is 0.67 or 0.33, and the more
    are heard the nearer it is to their share. ValueError for more that worked than tried it.
    """
    whole("worked", worked, 0)
    whole("tried", tried, worked)
    return (worked + 1) / (tried + 2)


def checked(library: Iterable[Offer]) -> tuple[Offer, ...]:
    """The library in the order given; ValueError where two offers have the same key, or one plays a keepers' drill."""
    offers = tuple(library)
    if len({offer.key for offer in offers}) != len(offers):
        raise ValueError("library: two offers have the same key")
    apart = {way.apart.drill for offer in offers for way in offer.ways if way.apart}
    if apart & {offer.drill for offer in offers}:
        raise ValueError("library: a drill for keepers apart is offered to everybody as well")
    return offers


# Which kinds of part an activity suits, and how long a part may be: common practice, no source.
_EASY_CR10 = 4.5  # no harder than this to arrive, warm up or cool down with

PART_KINDS: Mapping[str, frozenset[str]] = {
    "arrival": frozenset({"arrival", "warm-up"}),
    "warm-up": frozenset({"arrival", "warm-up", "cool-down"}),
    "rondo": frozenset({"arrival", "warm-up", "practice"}),
    "possession": frozenset({"practice", "game"}),
    "directional game": frozenset({"practice", "game"}),
    "waves": frozenset({"practice"}),
    "finishing": frozenset({"practice"}),
    "pattern": frozenset({"warm-up", "practice", "cool-down"}),
    "technique": frozenset({"arrival", "warm-up", "practice", "cool-down"}),
    "duel": frozenset({"practice"}),
    "set piece": frozenset({"practice"}),
    "fun game": frozenset({"arrival", "warm-up"}),
    "match": frozenset({"game"}),
}
_EASY, _GAME = frozenset({"cool-down"}), frozenset({"game"})


def part_kinds(activity: str, effort_cr10: float, *, between_sides: bool) -> frozenset[str]:
    """The kinds of part that a drill of this activity and effort suits; none for an unknown activity.

    A part of kind game is a game: one that is played between sides, in which nobody queues. Common practice, no source.
    """
    kinds = PART_KINDS.get(activity, frozenset())
    if not between_sides:
        kinds -= _GAME
    return kinds - _EASY if effort_cr10 > _EASY_CR10 else kinds


def minutes_of(written: int) -> tuple[int, int]:
    """(fewest, most) minutes for which a drill written for so many is worth setting up (common practice, no source)."""
    return max(5, round(written * 0.6)), max(8, round(written * 1.5))
