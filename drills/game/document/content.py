"""The pieces of a drill: numbers and groups, the grid and what stands on it, how it starts, runs and ends."""

from __future__ import annotations

from typing import Annotated

import msgspec

from drills.game.document.choices import (
    Edge,
    EndsKind,
    GoalSize,
    GroupHome,
    NumbersKind,
    PlaysFor,
    QuestionMoment,
    RestartAfter,
    RestartHow,
)


class Shape(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A frozen piece of a document: unknown fields are refused, so a typing error never passes silently.

    `kw_only` is not inherited in msgspec and mypy wants `frozen` repeated, so each piece says both itself.
    """


Key = Annotated[str, msgspec.Meta(min_length=1, max_length=40, pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*$")]
Line = Annotated[str, msgspec.Meta(min_length=1, max_length=120)]
Sentence = Annotated[str, msgspec.Meta(min_length=1, max_length=300)]
Paragraph = Annotated[str, msgspec.Meta(max_length=2000)]
Metres = Annotated[float, msgspec.Meta(gt=0, le=130)]
Count = Annotated[int, msgspec.Meta(ge=0, le=200)]
Share = Annotated[float, msgspec.Meta(ge=0, le=1)]


class Numbers(Shape, frozen=True, kw_only=True):
    """How many the drill is for: exactly as the format says, a range, or anyone can join."""

    kind: NumbersKind = NumbersKind.EXACT
    least: Annotated[int, msgspec.Meta(ge=1, le=60)] | None = None
    most: Annotated[int, msgspec.Meta(ge=1, le=60)] | None = None


class Group(Shape, frozen=True, kw_only=True):
    """Players who do the same. A side is a bib colour; in or out of possession is a state, never a group."""

    key: Key
    name: Line
    plays_for: PlaysFor
    place: GroupHome
    least: Annotated[int, msgspec.Meta(ge=0, le=60)]
    most: Annotated[int, msgspec.Meta(ge=0, le=60)] | None = None  # None: exactly `least`
    role: Line | None = None  # server, target, wall player, joker, recovering defender, tagger, 6, 9 …
    bib: Line | None = None  # a colour word; the club's stock decides on the night
    edges: tuple[Edge, ...] = ()
    zone: Key | None = None


class Grid(Shape, frozen=True, kw_only=True):
    """A preset of the marked rectangle, and what that size is for."""

    key: Key
    length_m: Metres
    width_m: Metres
    purpose: Line


class GridZone(Shape, frozen=True, kw_only=True):
    """A rectangle of the grid, as shares of its length and width, so that it keeps its place at any size."""

    key: Key
    name: Line
    left: Share
    bottom: Share
    right: Share
    top: Share


class Gate(Shape, frozen=True, kw_only=True):
    """Two cones to pass or run through. `x`, `y` are shares of the grid; `width_m` stays as it is."""

    key: Key
    x: Share
    y: Share
    width_m: Metres = 2.0
    across: bool = False  # False: the cones stand above one another, so one passes left to right


class Goal(Shape, frozen=True, kw_only=True):
    """A goal on an edge. `along` is the middle of the goal as a share of that edge."""

    key: Key
    edge: Edge
    along: Share = 0.5
    size: GoalSize = GoalSize.MINI
    defended_by: Key | None = None  # side that defends it; None: whoever has lost the ball
    keeper: bool = False
    open_at_start: bool = True
    width_m: Metres | None = None


class Balls(Shape, frozen=True, kw_only=True):
    number: Count = 1
    each: bool = False  # a ball each
    supply: Line | None = None  # where the spare balls lie
    spare: Count = 0


class KitItem(Shape, frozen=True, kw_only=True):
    """Kit beyond what the groups, goals, gates and balls already say. `kind` is the club's word: cone, pole, …"""

    kind: Line
    count: Annotated[int, msgspec.Meta(ge=1, le=200)]


class Entry(Shape, frozen=True, kw_only=True):
    """A group that comes in: from where, how much later."""

    group: Key
    source: Line
    delay_s: Annotated[float, msgspec.Meta(ge=0, le=60)] = 0.0
    count: Count | None = None


class Start(Shape, frozen=True, kw_only=True):
    trigger: Line
    source: Line | None = None  # from where the first ball comes
    delays: tuple[Entry, ...] = ()


class Restart(Shape, frozen=True, kw_only=True):
    after: RestartAfter
    who: Line
    how: RestartHow


class OnWinning(Shape, frozen=True, kw_only=True):
    """What the winners of the ball must do, and how quickly."""

    task: Line
    within_s: Annotated[float, msgspec.Meta(gt=0, le=120)] | None = None


class Scoring(Shape, frozen=True, kw_only=True):
    what: Line
    points: Annotated[int, msgspec.Meta(ge=0, le=20)] = 1
    group: Key | None = None


class Ends(Shape, frozen=True, kw_only=True):
    kind: EndsKind = EndsKind.TIME
    number: Annotated[int, msgspec.Meta(ge=1, le=200)] | None = None  # goals or repetitions
    what: Line | None = None


class Queue(Shape, frozen=True, kw_only=True):
    """Planned waiting: work : wait, who goes next, and how roles go round."""

    work_s: Annotated[int, msgspec.Meta(ge=1, le=600)]
    wait_s: Annotated[int, msgspec.Meta(ge=0, le=600)]
    next: Line
    cycle: tuple[Line, ...] = ()


class Work(Shape, frozen=True, kw_only=True):
    """Bouts of work and rest as the drill is usually run, and how hard it is expected to be (CR10)."""

    minutes: Annotated[int, msgspec.Meta(ge=1, le=120)] = 15
    bouts: Annotated[int, msgspec.Meta(ge=1, le=40)] = 4
    bout_s: Annotated[int, msgspec.Meta(ge=10, le=5400)] = 180
    rest_s: Annotated[int, msgspec.Meta(ge=0, le=1200)] = 45
    effort: Annotated[float, msgspec.Meta(ge=0, le=10)] = 5.0


class Phase(Shape, frozen=True, kw_only=True):
    """What the game becomes when a condition opens it, with its own format."""

    key: Key
    name: Line
    format: Line
    entries: tuple[Entry, ...] = ()
    starts: Line | None = None
    ends: Line = "goal, ball out or ball won"
    within_s: Annotated[int, msgspec.Meta(ge=1, le=300)] | None = None
    then: Line | None = None  # what follows: back to the start, roles swap


class CoachingPoint(Shape, frozen=True, kw_only=True):
    role: Line
    moment: QuestionMoment | None = None
    looks_like: Sentence


class Fault(Shape, frozen=True, kw_only=True):
    fault: Sentence
    fix: Sentence


class Question(Shape, frozen=True, kw_only=True):
    """What is asked, of whom, when, and what the coach hopes to hear or see."""

    key: Key
    role: Line
    moment: QuestionMoment
    ask: Sentence
    listen_for: Sentence


class Challenge(Shape, frozen=True, kw_only=True):
    """Harder or easier for one player, the others unchanged."""

    text: Sentence
    harder: bool = True
