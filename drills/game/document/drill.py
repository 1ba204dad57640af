"""The drill document itself. Order of fields is the order in which a coach would tell it."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from drills.game.document.choices import Activity, Direction, Heading, Indoors, Moment, StopWay
from drills.game.document.conditions import Condition
from drills.game.document.content import (
    Balls,
    Challenge,
    CoachingPoint,
    Ends,
    Fault,
    Gate,
    Goal,
    Grid,
    GridZone,
    Group,
    Key,
    KitItem,
    Line,
    Numbers,
    OnWinning,
    Paragraph,
    Phase,
    Question,
    Queue,
    Restart,
    Scoring,
    Sentence,
    Shape,
    Start,
    Work,
)
from drills.game.document.operations import Variation
from drills.game.scene import Scene

SCHEMA_VERSION = 2

LONGEST_TITLE = 80
Title = Annotated[str, msgspec.Meta(min_length=1, max_length=LONGEST_TITLE)]
Under = Annotated[int, msgspec.Meta(ge=4, le=100)]  # the n of "under n": 12 for U12


class DrillDocument(Shape, frozen=True, kw_only=True):
    """One exercise or game, complete enough that another coach can run it unseen."""

    schema_version: Literal[2] = 2
    title: Title
    purpose: Sentence
    activity: Activity
    moment: Moment
    themes: Annotated[tuple[Key, ...], msgspec.Meta(max_length=6)] = ()
    under_from: Under | None = None  # the youngest age group it is for
    under_to: Under | None = None  # None: no upper limit, adults and walking football too

    # numbers and people
    format: Line
    numbers: Numbers = Numbers()
    direction: Direction = Direction.NONE
    groups: Annotated[tuple[Group, ...], msgspec.Meta(max_length=16)] = ()
    adults: Annotated[int, msgspec.Meta(ge=1, le=10)] = 1

    # the place and the kit
    grids: Annotated[tuple[Grid, ...], msgspec.Meta(min_length=1, max_length=8)]  # the first is the default
    zones: Annotated[tuple[GridZone, ...], msgspec.Meta(max_length=20)] = ()
    gates: Annotated[tuple[Gate, ...], msgspec.Meta(max_length=40)] = ()
    goals: Annotated[tuple[Goal, ...], msgspec.Meta(max_length=12)] = ()
    balls: Balls = Balls()
    kit: Annotated[tuple[KitItem, ...], msgspec.Meta(max_length=20)] = ()
    indoors: Indoors = Indoors.YES
    setup_minutes: Annotated[int, msgspec.Meta(ge=0, le=60)] = 5
    shot_towards: Line | None = None

    # how it goes
    start: Start | None = None
    restarts: Annotated[tuple[Restart, ...], msgspec.Meta(max_length=12)] = ()
    on_winning: OnWinning | None = None
    scoring: Annotated[tuple[Scoring, ...], msgspec.Meta(max_length=12)] = ()
    ends: Ends = Ends()
    queue: Queue | None = None
    conditions: Annotated[tuple[Condition, ...], msgspec.Meta(max_length=20)] = ()
    phases: Annotated[tuple[Phase, ...], msgspec.Meta(max_length=8)] = ()
    work: Work = Work()
    heading: Heading = Heading.NONE
    headers_per_player: Annotated[int, msgspec.Meta(ge=0, le=50)] = 0

    # the ladder
    variations: Annotated[tuple[Variation, ...], msgspec.Meta(max_length=20)] = ()
    challenges: Annotated[tuple[Challenge, ...], msgspec.Meta(max_length=10)] = ()

    # coaching it
    say_this: Annotated[tuple[Sentence, ...], msgspec.Meta(max_length=3)] = ()
    points: Annotated[tuple[CoachingPoint, ...], msgspec.Meta(max_length=12)] = ()
    faults: Annotated[tuple[Fault, ...], msgspec.Meta(max_length=8)] = ()
    questions: Annotated[tuple[Question, ...], msgspec.Meta(max_length=12)] = ()
    praise: Sentence | None = None  # the one thing worth praising
    coach_place: Line | None = None
    stops: tuple[StopWay, ...] = ()
    safety: Annotated[tuple[Sentence, ...], msgspec.Meta(max_length=8)] = ()
    notes: Paragraph = ""

    scene: Scene | None = None  # drawn by hand; None: the generated start layout

    @property
    def headers_planned(self) -> int:
        """Headers of one player in it as it is played (a variation applied); 0 unless heading is planned."""
        return self.headers_per_player if self.heading is Heading.PLANNED else 0
