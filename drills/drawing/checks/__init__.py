"""Is the plan right? Every check gives its reasons; none at all means that nothing was found."""

from __future__ import annotations

from drills.drawing.checks import claims, motion, people
from drills.drawing.checks.reason import Finding, Severity
from drills.game.format import Format
from drills.game.scene import Scene

__all__ = ["Finding", "Severity", "check", "unplayable"]


def check(scene: Scene, format: Format | None = None, *, under: int | None = None) -> list[Finding]:
    """All reasons against a plan, errors first. Without a format the numbers are not compared.

    `under` is the n of "under n" of the oldest it is for, and decides which speeds are plausible; None means adults.
    """
    found = [
        *(people.numbers(scene, format) if format is not None else ()),
        *people.places(scene),
        *people.nobody_on_top(scene),
        *motion.one_place_each(scene),
        *motion.ball_is_somewhere(scene),
        *motion.passes_arrive(scene),
        *motion.passes_get_through(scene, under),
        *motion.speeds(scene, under),
        *claims.claims(scene, under),
    ]
    return sorted(found, key=lambda each: each.severity != "error")


def unplayable(scene: Scene, format: Format, *, under: int | None = None) -> list[Finding]:
    """The errors alone, without what the text claims: whether the plan can be played as it stands."""
    found = [
        *people.numbers(scene, format),
        *people.places(scene),
        *people.nobody_on_top(scene),
        *motion.one_place_each(scene),
        *motion.ball_is_somewhere(scene),
        *motion.speeds(scene, under),
    ]
    return [each for each in found if each.severity == "error"]
