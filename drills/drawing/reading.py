"""A plan, read: what is wrong with it, whether the text is true of it, and what is on at the start of each step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drills.drawing.checks import Finding, check
from drills.drawing.checks.claims import Told, told
from drills.drawing.lanes import Lane, open_options
from drills.drawing.pace import Pace, pace_for
from drills.drawing.pose import ball_at
from drills.game.document.drill import DrillDocument
from drills.game.format import Format
from drills.game.problem import Problem
from drills.game.scene import Claim, Scene
from drills.game.variations import CannotApply, apply
from drills.game.wording.shapes import Sentence


@dataclass(frozen=True)
class StepStart:
    """The start of a step. `passer` is the key of whoever is on the ball; None while it rolls or lies loose."""

    number: int
    time_s: float
    passer: str | None
    lanes: tuple[Lane, ...] = ()

    @property
    def open(self) -> int:
        """How many lanes are open."""
        return sum(each.open for each in self.lanes)


def moments(scene: Scene, pace: Pace) -> tuple[StepStart, ...]:
    """One for each step; none for a plan on which no pass can be cut out, or with several balls in play."""
    if not _is_contested(scene):
        return ()
    ball = _played(scene)[0]
    return tuple(
        StepStart(
            number,
            step.start_s,
            ball_at(scene, ball, step.start_s).holder,
            open_options(scene, pace=pace, time_s=step.start_s, ball=ball),
        )
        for number, step in enumerate(scene.steps, start=1)
    )


def _is_contested(scene: Scene) -> bool:
    """One ball in play, and opponents who may cut a pass out."""
    sides = {
        each.side
        for each in scene.players
        if each.kind != "adult" and each.place not in ("outside", "queue") and each.side != "neutral"
    }
    return len(_played(scene)) == 1 and len(sides) > 1


def _played(scene: Scene) -> list[str]:
    """The balls that somebody has at the start or plays later; not those that lie ready."""
    moved = {move.ball for step in scene.steps for move in step.moves if hasattr(move, "ball")}
    return [each.key for each in scene.balls if each.at is not None or each.key in moved]


@dataclass(frozen=True)
class Reading:
    """`under` is the n of "under n" of the oldest that the drill is for; None means adults. It decides about speeds."""

    under: int | None
    pace: Pace
    reasons: tuple[Finding, ...]
    claims: tuple[tuple[Claim, Told], ...]
    moments: tuple[StepStart, ...]

    @property
    def ready(self) -> bool:
        """Whether it may go for review: with warnings, not with errors."""
        return all(each.severity != "error" for each in self.reasons)


def read(doc: DrillDocument, scene: Scene) -> Reading:
    """Read the plan of a played document. Raises UnclearFormat."""
    pace = pace_for(doc.under_to)
    return Reading(
        under=doc.under_to,
        pace=pace,
        reasons=tuple(check(scene, Format.parse(doc.format), under=doc.under_to)),
        claims=tuple(told(scene, doc.under_to)),
        moments=moments(scene, pace),
    )


def plan_problems(document: DrillDocument) -> list[Problem]:
    """What keeps a drill from review because of what is drawn by hand, in the drill as written or in a variation."""
    base = [each.sentence for each in _errors(document)]
    found = [Problem("scene", said) for said in base]
    for index, variation in enumerate(document.variations):
        try:
            changed = apply(document, variation)
        except CannotApply:
            continue  # said elsewhere: such a document is not kept
        if changed.scene != document.scene or changed.format != document.format:
            found += [
                Problem(
                    f"variations[{index}].changes",
                    Sentence("in_variation", {"title": variation.title, "text": each.sentence}),
                )
                for each in _errors(changed)
                if each.sentence not in base
            ]
    return found


def _errors(doc: DrillDocument) -> Iterator[Finding]:
    if doc.scene is not None:
        yield from (each for each in read(doc, doc.scene).reasons if each.severity == "error")
