"""A block as it is asked for: teams, slots, themes with targets, ready sessions, what stands, what the director fixed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from sessions.planning.numbers import at_least, cr10, whole

# Ours, judgements to be tested with coaches, in points; what a minute short of a target costs is 2, and all is held
# against that. A theme taught for a session is some 45 minutes.
SHORT_MINUTE = 2
# Once more for what is missing beyond half: two themes half taught before one never taught.
FORGOTTEN_MINUTE = 2
OVER_MINUTE = 1  # too much of one theme is too little of another, which counts already; this spreads the rest
SHORT_SESSION, FORGOTTEN_SESSION, OVER_SESSION = 90, 90, 45  # the same for 45 minutes
ALONE = 40  # taught once and not again in a week or two: about half a session's work is lost
NEAR_MATCH = 60  # a hard evening next to a match: more than a theme an evening late
HARD_CLOSE = 60  # two hard evenings with too little between them: the same tired legs
UNREADY = 6  # somebody has to write the session
# The same ready session a second time: the children know it, so the coach had better write one.
SAME_AGAIN = 20
# A slot that stands otherwise: half a session short of a target is no reason to tell a coach something else.
CHANGE = 25
# Common practice, no source: a light evening in the two days before a match and on the day after it, and one day
# without between two hard ones. Days from one to the other; 2 means that the day between is free.
HARD_BEFORE_MATCH_DAYS, HARD_AFTER_MATCH_DAYS, HARD_APART_DAYS = 2, 1, 2
# "Hard" is 5 on the CR10 scale as Foster words it for whole sessions (2001; from memory).
HARD_CR10 = 5.0
# A theme is taught, then again after one to two weeks: spacing of practice, common practice, no source.
AGAIN_FROM_DAYS, AGAIN_TO_DAYS = 7, 14
RUNNING = 3  # a theme is not taught so many times running; common practice, no source

Unit = Literal["minutes", "sessions"]


@dataclass(frozen=True, slots=True)
class BlockTheme:
    """A theme that may be taught at these ages (all where None), and how hard a session of it is that a coach writes.

    Effort is on the CR10 scale. Raises ValueError naming the field.
    """

    key: str
    effort_cr10: float = 4.0  # "somewhat hard", from memory
    ages: frozenset[str] | None = None

    def __post_init__(self) -> None:
        cr10("effort_cr10", self.effort_cr10)


@dataclass(frozen=True, slots=True)
class ReadyChoice:
    """A ready or past session that a slot can take as it is.

    `minutes` says how many of its minutes teach which theme; `theme` is the one that it is filed under. It takes `length`
    minutes and so many `thirds` of a pitch (None: what the slot has), and pieces of shared `kit`. Raises ValueError naming
    the field.
    """

    key: str
    theme: str
    minutes: Mapping[str, int]
    length: int
    effort_cr10: float
    ages: frozenset[str]
    thirds: int | None = None
    kit: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        cr10("effort_cr10", self.effort_cr10)
        whole("length", self.length, 1)
        if self.thirds is not None:
            whole("thirds", self.thirds, 1)
        for name, counts in (("minutes", self.minutes), ("kit", self.kit)):
            for key, count in counts.items():
                whole(f"{name} {key}", count, 0)


@dataclass(frozen=True, slots=True)
class BlockTeam:
    """A team, its age (a key that themes, targets and ready sessions name) and its match days, counted as slots' days are."""

    key: str
    age: str
    match_days: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class BlockSlot:
    """One evening of a team, to be given a theme.

    `day` counts from the block's first day (0), `starts` and `ends` are minutes after midnight on the club's clock. It has
    so many `thirds` of a `pitch`. `teaches` minutes count for the theme where a coach writes the session. `stands` is the
    (theme, ready session or "") that it has now. What the director fixed is never changed: `fixed_theme`, and `fixed_ready`
    where a ready session is fixed too. Raises ValueError naming the field.
    """

    key: str
    team: str
    day: int
    starts: int
    ends: int
    pitch: str
    thirds: int
    teaches: int
    stands: tuple[str, str] | None = None
    fixed_theme: str | None = None
    fixed_ready: str | None = None

    def __post_init__(self) -> None:
        whole("starts", self.starts, 0)
        whole("ends", self.ends, self.starts + 1)
        whole("thirds", self.thirds, 0)
        whole("teaches", self.teaches, 0)

    @property
    def length(self) -> int:
        """Minutes from its start to its end."""
        return self.ends - self.starts


@dataclass(frozen=True, slots=True)
class TaughtSession:
    """A session that was run: minutes of each theme. It counts for targets from day 0 on, before that for spacing alone."""

    team: str
    day: int
    theme: str
    minutes: Mapping[str, int]
    hard: bool = False
    ready: str = ""


@dataclass(frozen=True, slots=True)
class BlockTarget:
    """How much of a theme every team of an age shall get in the block: minutes that teach it, or sessions filed under it.

    With `must` it has to be reached, and clashes by name where it cannot be. Raises ValueError naming the field.
    """

    age: str
    theme: str
    amount: int
    unit: Unit = "minutes"
    must: bool = False

    def __post_init__(self) -> None:
        whole("amount", self.amount, 0)


@dataclass(frozen=True, slots=True)
class BlockWeights:
    """Points for what is missed (whole numbers; the module says why each). Raises ValueError naming the field."""

    short_minute: int = SHORT_MINUTE
    forgotten_minute: int = FORGOTTEN_MINUTE
    over_minute: int = OVER_MINUTE
    short_session: int = SHORT_SESSION
    forgotten_session: int = FORGOTTEN_SESSION
    over_session: int = OVER_SESSION
    alone: int = ALONE
    near_match: int = NEAR_MATCH
    hard_close: int = HARD_CLOSE
    unready: int = UNREADY
    same_again: int = SAME_AGAIN
    change: int = CHANGE

    def __post_init__(self) -> None:
        for name in self.__slots__:
            whole(name, getattr(self, name), 0)

    def of(self, unit: Unit) -> tuple[int, int, int]:
        """Points for one unit short, for one beyond half of the target short, and for one over."""
        if unit == "minutes":
            return self.short_minute, self.forgotten_minute, self.over_minute
        return self.short_session, self.forgotten_session, self.over_session


@dataclass(frozen=True, slots=True)
class BlockRequest:
    """All of a block. `pitches` says how many thirds each has, `kit` how much of each shared kind there is.

    A pitch or kind that is not listed is taken to be enough. `fewest_changes` counts what differs from what stands. With
    `light_before_matches` and `hard_apart` hard evenings next to matches and to each other are not only dear but ruled out.
    Raises ValueError naming the field.
    """

    teams: tuple[BlockTeam, ...]
    slots: tuple[BlockSlot, ...]
    themes: tuple[BlockTheme, ...]
    targets: tuple[BlockTarget, ...] = ()
    ready: tuple[ReadyChoice, ...] = ()
    taught: tuple[TaughtSession, ...] = ()
    pitches: Mapping[str, int] = field(default_factory=dict)
    kit: Mapping[str, int] = field(default_factory=dict)
    fewest_changes: bool = False
    light_before_matches: bool = False
    hard_apart: bool = False
    hard_cr10: float = HARD_CR10
    weights: BlockWeights = BlockWeights()

    def __post_init__(self) -> None:
        at_least("hard_cr10", self.hard_cr10, 0)
        teams, themes = {each.key for each in self.teams}, {each.key for each in self.themes}
        ready = {each.key for each in self.ready}
        keys = ("teams", self.teams), ("slots", self.slots), ("themes", self.themes), ("ready", self.ready)
        for name, rows in keys:
            _once(name, (each.key for each in rows))
        _once("targets", (f"{each.age} {each.theme} {each.unit}" for each in self.targets))
        _known("slots", (each.team for each in self.slots), teams)
        _known("taught", (each.team for each in self.taught), teams)
        _known("targets", (each.theme for each in self.targets), themes)
        _known("fixed_theme", (each.fixed_theme for each in self.slots if each.fixed_theme), themes)
        _known("fixed_ready", (each.fixed_ready for each in self.slots if each.fixed_ready), ready)
        for name, counts in (("pitches", self.pitches), ("kit", self.kit)):
            for key, count in counts.items():
                whole(f"{name} {key}", count, 0)

    def targets_of(self, team: BlockTeam) -> tuple[BlockTarget, ...]:
        """Those of the team's age, in their order."""
        return tuple(each for each in self.targets if each.age == team.age)

    def slots_of(self, team: str) -> tuple[BlockSlot, ...]:
        """A team's evenings in order of time."""
        own = (each for each in self.slots if each.team == team)
        return tuple(sorted(own, key=lambda each: (each.day, each.starts, each.key)))


def _once(name: str, keys: Iterable[str]) -> None:
    """Refuse a key that stands twice, with a ValueError naming the field."""
    found = list(keys)
    if len(set(found)) != len(found):
        raise ValueError(f"{name}: no two of the same key")


def _known(name: str, keys: Iterable[str], known: set[str]) -> None:
    """Refuse a key that nothing stands behind, with a ValueError naming the field."""
    for key in keys:
        if key not in known:
            raise ValueError(f"{name}: nothing is called {key!r}")
