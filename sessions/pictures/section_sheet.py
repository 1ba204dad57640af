"""Where a session's plan and section lie on their sheet: the scales of minutes and of effort, and each part on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sessions.planning.plan import PlannedPart, SessionPlan

Size = Literal["large", "phone", "small"]

FULL_CR10 = 10


@dataclass(frozen=True, slots=True)
class SectionSheet:
    """Where things lie, in units: names from `top`, plans down to `tape`, the section from `ground` to `bottom`."""

    width: float
    height: float
    left: float
    right: float
    top: float
    tape: float
    ground: float
    bottom: float
    minutes: float
    cr10: float

    def x(self, minutes: float) -> float:
        """Where a minute of the session lies, in units from the left."""
        return self.left + minutes * (self.right - self.left) / self.minutes

    def y(self, cr10: float) -> float:
        """How deep an effort (CR10) reaches, in units from the top."""
        return self.ground + cr10 * (self.bottom - self.ground) / self.cr10


@dataclass(frozen=True, slots=True)
class SectionCut:
    """One part placed on the minutes."""

    number: int
    part: PlannedPart
    starts_min: float

    @property
    def ends_min(self) -> float:
        return self.starts_min + self.part.minutes


def cuts_of(plan: SessionPlan) -> list[SectionCut]:
    """The parts one after the other, each after its changeover."""
    moment, found = 0.0, []
    for number, part in enumerate(plan.parts, start=1):
        moment += part.changeover_s / 60
        found.append(SectionCut(number, part, moment))
        moment += part.minutes
    return found


def sheet_of(
    plan: SessionPlan, size: Size, minutes_shown: float | None, level: float | None, *, with_plans: bool
) -> SectionSheet:
    """The scales of a size. A level deeper than CR10 10 (a short session) is still seen, up to twice as deep."""
    used = plan.used_minutes - plan.clear_minutes
    minutes = max(plan.minutes, used, minutes_shown or 0, 1.0)
    cr10 = max(FULL_CR10, min((level or 0) * 1.05, 2 * FULL_CR10))
    if size == "small":
        return SectionSheet(96, 34, 1, 95, 1, 1, 6, 32, minutes, cr10)
    width, plans_u, section_u = (720.0, 118.0, 84.0) if size == "large" else (340.0, 74.0, 64.0)
    top = 26.0
    tape = top + (plans_u if with_plans else 0)
    ground = tape + 20
    return SectionSheet(
        width, ground + section_u + 4, 6, width - 6, top, tape, ground, ground + section_u, minutes, cr10
    )


def height_shown(sheet: SectionSheet, cuts: Sequence[SectionCut], level: float | None) -> float:
    """How much of the sheet's height (units) something is drawn on; the scale of depths is the same on every sheet.

    `level` is the budget's (CR10).
    """
    deepest_cr10 = max((cut.part.cr10 for cut in cuts), default=0.0)
    return min(sheet.height, sheet.y(max(deepest_cr10, level or 0.0)) + sheet.height - sheet.bottom)
