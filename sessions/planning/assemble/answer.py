"""What is proposed: the parts with their reasons, how good it is and whether that is proven, or what clashes."""

from __future__ import annotations

from dataclasses import dataclass, field

from sessions.planning.assemble.library import Offer, Way
from sessions.planning.reasons import PlanningReason


@dataclass(frozen=True, slots=True)
class ProposedPart:
    """One part. `starts_min` counts from the session's start; `changeover_minutes` come before it.

    `cones_stay` says that it is played on the cones of the part before. `instead` names up to three offers, best
    first, that could take its place while everything else stays.
    """

    key: str
    kind: str
    offer: Offer
    way: Way
    minutes: int
    starts_min: int
    changeover_minutes: int
    cones_stay: bool
    pinned: bool
    reasons: tuple[PlanningReason, ...] = ()
    instead: tuple[str, ...] = ()

    @property
    def load_au(self) -> float:
        """Planned load of the part, changeover left out."""
        return self.offer.effort_tenths * self.minutes / 10


@dataclass(frozen=True, slots=True)
class AssembledSession:
    """One whole choice: its score in points, and its sums (minutes with changeovers and clearing, planned AU)."""

    parts: tuple[ProposedPart, ...]
    objective: float
    minutes: int
    load_au: float
    headers: int
    set_up_minutes: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """The answer to a request.

    `session` is the best found; `proven` says that no better one exists under the limits, or, without a session, that
    none exists at all: it comes from the solver's status. `bound` is what no session can exceed, in points. `clash`
    names limits that cannot hold together (see `clash.Clash`); `clears` and `let_go` say what would help.
    `alternatives` are the best found that play other drills in at least half of the parts that are not pinned.
    """

    session: AssembledSession | None = None
    proven: bool = False
    bound: float | None = None
    alternatives: tuple[AssembledSession, ...] = ()
    clash: tuple[str, ...] = ()
    clash_smallest: bool = False
    clears: dict[str, float | None] = field(default_factory=dict)
    let_go: tuple[str, ...] = ()
    reasons: tuple[PlanningReason, ...] = ()

    @property
    def parts(self) -> tuple[ProposedPart, ...]:
        """The parts of the best session found; empty without one."""
        return self.session.parts if self.session else ()

    @property
    def objective(self) -> float | None:
        """The score of the best session found, in points."""
        return self.session.objective if self.session else None

    @property
    def gap(self) -> float | None:
        """How much better a session could be at most, as a share of the bound; 0 when proven, None without a session."""
        if self.session is None or self.bound is None:
            return None
        return max(0.0, self.bound - self.session.objective) / max(1.0, abs(self.bound))
