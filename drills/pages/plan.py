"""The plan on a drill's page: the drawing, its steps, and what it knows."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from drills.drawing.checks import Finding
from drills.drawing.lanes import Lane
from drills.drawing.paper import fmt
from drills.drawing.picture import laid, scene_of
from drills.drawing.reading import Reading, StepStart, read
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.words import player_name, say_claim, say_receiver, say_step
from drills.game.played import GridTonight, Played
from drills.game.scene import Scene

Turn = Literal[0, 90, 180, 270]
TURNS: tuple[Turn, ...] = (0, 90, 180, 270)


@dataclass(frozen=True)
class LaneRow:
    """One pass that could be played, with its margin and the receiver's own in seconds, and what awaits the receiver."""

    receiver: str
    open: bool
    margin: str
    own: str
    awaits: str
    cut_by: str


@dataclass(frozen=True)
class PlanStep:
    """A step of the plan. `lanes` are those at its start; `contested`: whether there are any to speak of."""

    number: int
    title: str
    start_s: float
    words: str
    contested: bool
    on_ball: str
    open: int
    lanes: list[LaneRow]


@dataclass(frozen=True)
class ClaimRow:
    text: str
    shown: bool
    missing: str


@dataclass(frozen=True)
class Plan:
    """`step` None is the whole; 0 the set-up. `marks_s` are the seconds at which the steps start, then the end.

    `missing` says what of a drawing by hand has no place with these numbers on this grid.
    """

    svg: SafeString
    step: int | None
    turn: int
    turns: tuple[int, ...]
    steps: list[PlanStep]
    marks_s: list[float]
    reasons: list[tuple[str, str]]
    claims: list[ClaimRow]
    pace: dict[str, str]
    under: int | None
    missing: list[str]

    @property
    def contested(self) -> bool:
        return any(each.contested for each in self.steps)

    @property
    def next_step(self) -> int | None:
        """The step after the one that is shown; after the last all moves again."""
        at = (self.step or 0) + 1
        return at if at <= len(self.steps) else None

    @property
    def next_turn(self) -> int:
        """A quarter further, clockwise."""
        return (self.turn + 90) % 360

    @property
    def shown(self) -> PlanStep | None:
        """The step that is shown alone."""
        return self.steps[self.step - 1] if self.step else None


def plan_of(tonight: Played, *, step: int | None = None, turn: Turn = 0) -> Plan:
    """The plan of a drill as it is run, at a step or whole. Raises KeyError for a step that is not there."""
    found = laid(tonight)
    scene = found.scene
    if step is not None and step > len(scene.steps):
        raise KeyError(step)
    reading = read(tonight.document, scene)
    options = DrawingOptions(
        prefix="plan-", turn=turn, lanes=_lanes_at(reading, step), seconds="asked", translate=_
    )
    return Plan(
        svg=mark_safe(render(scene, step=step, options=options)),
        step=step,
        turn=turn,
        turns=TURNS,
        steps=list(_steps(scene, reading)),
        marks_s=[*(each.start_s for each in scene.steps), *(each.end_s for each in scene.steps[-1:])],
        reasons=[(_level(each), reason_words(each)) for each in reading.reasons],
        claims=[_claim(scene, claim, found) for claim, found in reading.claims],
        pace={name: fmt(getattr(reading.pace, name), 2) for name in reading.pace.__dataclass_fields__},
        under=reading.under,
        missing=[reason_words(each) for each in found.missing],
    )


@dataclass(frozen=True)
class Still:
    """One step on paper."""

    row: PlanStep
    svg: SafeString


def stills(tonight: Played, *, turn: Turn = 0) -> list[Still]:
    """A picture of every step, with its lanes, for paper."""
    scene = scene_of(tonight)
    reading = read(tonight.document, scene)
    return [
        Still(
            row, mark_safe(render(scene, step=row.number, options=_still_options(reading, row.number, turn)))
        )
        for row in _steps(scene, reading)
    ]


def _still_options(reading: Reading, number: int, turn: Turn) -> DrawingOptions:
    return DrawingOptions(prefix=f"step{number}-", turn=turn, lanes=_lanes_at(reading, number), translate=_)


def drawing(
    tonight: Played,
    grid: GridTonight | None = None,
    *,
    step: int | None = None,
    turn: Turn = 0,
    moving: bool = False,
    lanes: bool = False,
) -> str:
    """The plan of one grid, the first where none is named, as SVG text. Raises ValueError for a step that is not there."""
    scene = scene_of(tonight, grid)
    reading = read(tonight.document, scene) if lanes else None
    at_step = _lanes_at(reading, step) if reading and not moving else ()
    moments = tuple(each.lanes for each in reading.moments) if reading and moving else ()
    options = DrawingOptions(
        turn=turn,
        moving=moving,
        lanes=at_step,
        moments=moments,
        seconds="asked" if moving else "no",
        translate=_,
    )
    return render(scene, step=step, options=options)


def reading_of(tonight: Played) -> tuple[Reading, tuple[Finding, ...]]:
    """What the plan of a drill says when it is read, and what of a drawing by hand has no place on it."""
    found = laid(tonight)
    return read(tonight.document, found.scene), found.missing


def reason_words(reason: Finding) -> str:
    """A reason in the reader's language."""
    return reason.said(_)


def _lanes_at(reading: Reading, step: int | None) -> tuple[Lane, ...]:
    return next((each.lanes for each in reading.moments if each.number == step), ())


def _level(reason: Finding) -> str:
    return "stop" if reason.severity == "error" else "warning"


def _steps(scene: Scene, reading: Reading) -> Iterator[PlanStep]:
    names = _names(scene)
    known = {each.number: each for each in reading.moments}
    for number, step in enumerate(scene.steps, start=1):
        moment = known.get(number) or StepStart(number, step.start_s, None)
        yield PlanStep(
            number=number,
            title=step.title,
            start_s=step.start_s,
            words=say_step(scene, number, _),
            contested=bool(moment.lanes),
            on_ball=names.get(moment.passer or "", ""),
            open=moment.open,
            lanes=[_lane(each, names) for each in moment.lanes],
        )


def _names(scene: Scene) -> dict[str, str]:
    """Everybody's name; those outside who share one are told apart by their edge."""
    names = {each.key: player_name(each, _) for each in scene.players}
    counts = Counter(names.values())
    for each in scene.players:
        if each.edge and counts[names[each.key]] > 1:
            names[each.key] = f"{names[each.key]} ({_(each.edge)})"
    return names


def _lane(lane: Lane, names: dict[str, str]) -> LaneRow:
    return LaneRow(
        receiver=names[lane.receiver],
        open=lane.open,
        margin=seconds(lane.margin_s),
        own=seconds(lane.receiver_margin_s),
        awaits=say_receiver(lane, names, _),
        cut_by=names.get(lane.cut_by or "", ""),
    )


def seconds(value: float) -> str:
    """A margin with its sign, to a tenth of a second; empty where nobody could ever come."""
    if value == float("inf"):
        return ""
    return f"{'+' if value >= 0 else '−'}{abs(value):.1f}"


def _claim(scene: Scene, claim: Any, found: bool | str) -> ClaimRow:
    missing = found if isinstance(found, str) else ""
    return ClaimRow(say_claim(scene, claim, _), found is True, missing)
