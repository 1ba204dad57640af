"""What a drill's plan knows: what is wrong with it, whether the text is true of it, which passes are on."""

from typing import Any
from uuid import UUID

import msgspec
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from club.api_described import Described, answer
from drills import pages, queries
from drills.api.asked import FIT, TONIGHT_PARAMETERS, as_asked, rung


class PlanReason(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that is wrong (`error`) or odd (`warning`); `items` are the keys of what it is about."""

    key: str
    severity: str
    text: str
    items: list[str]
    params: dict[str, str]


class PlanClaim(msgspec.Struct, frozen=True, kw_only=True):
    """What the text says. `shown`: whether the moves show it; null where it does not say `missing`."""

    kind: str
    who: str | None
    to: str | None
    step: str | None
    shown: bool | None
    missing: str


class PlanLane(msgspec.Struct, frozen=True, kw_only=True):
    """A pass to `receiver`. Margins in seconds; null where nobody could ever cut it out or close down.

    `closed_by` is first at the receiver, `closed_down` before the ball or with it.
    """

    receiver: str
    open: bool
    margin_s: float | None
    receiver_margin_s: float | None
    closed_down: bool
    closed_by: str | None
    cut_by: str | None
    cut_at_m: tuple[float, float] | None


class PlanMoment(msgspec.Struct, frozen=True, kw_only=True):
    """The start of a step. `on_ball` is null while the ball is on its way or loose."""

    step: int
    time_s: float
    on_ball: str | None
    open: int
    of: int
    lanes: list[PlanLane]


class PlanPace(msgspec.Struct, frozen=True, kw_only=True):
    """The simple model behind the lanes, for the oldest that the drill is for; null means adults."""

    up_to_under: int | None
    ball_speed_m_per_s: float
    reaction_s: float
    defender_speed_m_per_s: float
    reach_m: float
    lunge_s: float
    lunge_m: float | None
    source: str


class PlanChecks(msgspec.Struct, frozen=True, kw_only=True):
    """`ready`: nothing here keeps the drill from review. `missing`: what of a drawing by hand has no place on this grid
    with these numbers."""

    variation: str
    ready: bool
    reasons: list[PlanReason]
    missing: list[PlanReason]
    claims: list[PlanClaim]
    moments: list[PlanMoment]
    pace: PlanPace


SOURCE = (
    "A simple model with constant speeds and a reaction time, after Spearman et al. 2017, “Physics-based modeling of "
    "pass probabilities in soccer”; an adult's values after Spearman 2018, “Beyond expected goals”, both MIT Sloan "
    "conference; from memory, not verified, scaled for age by judgement. "
    "The lunge at what passes close by is common practice, no source."
)


class ChecksView(APIView):
    """What a drill's plan knows."""

    who_may = STAFF

    @extend_schema(
        operation_id="drills_checks",
        parameters=[*TONIGHT_PARAMETERS, OpenApiParameter("grid", str), FIT],
        responses=Described(PlanChecks),
    )
    def get(self, request: Request, public_id: UUID) -> Response:
        """Checks with reasons, claims, and the passes that are on at the start of each step; as written or for tonight."""
        found = queries.document_for(request.actor, public_id)
        key = rung(request, found)
        reading, missing = pages.reading_of(as_asked(request, found, key))
        return answer(_answer(key, reading, missing))


def _answer(key: str, reading: Any, missing: Any) -> PlanChecks:
    return PlanChecks(
        variation=key,
        ready=reading.ready,
        reasons=[_reason(each) for each in reading.reasons],
        missing=[_reason(each) for each in missing],
        claims=[_claim(claim, found) for claim, found in reading.claims],
        moments=[_moment(each) for each in reading.moments],
        pace=_pace(reading),
    )


def _reason(each: Any) -> PlanReason:
    return PlanReason(
        key=each.key,
        severity=each.severity,
        text=pages.reason_words(each),
        items=list(each.items),
        params=dict(each.params),
    )


def _claim(claim: Any, found: bool | str) -> PlanClaim:
    told = isinstance(found, bool)
    return PlanClaim(
        kind=claim.kind,
        who=claim.who,
        to=claim.to,
        step=claim.step,
        shown=bool(found) if told else None,
        missing="" if told else str(found),
    )


def _moment(each: Any) -> PlanMoment:
    return PlanMoment(
        step=each.number,
        time_s=each.time_s,
        on_ball=each.passer,
        open=each.open,
        of=len(each.lanes),
        lanes=[_lane(lane) for lane in each.lanes],
    )


def _lane(lane: Any) -> PlanLane:
    return PlanLane(
        receiver=lane.receiver,
        open=lane.open,
        margin_s=_finite(lane.margin_s),
        receiver_margin_s=_finite(lane.receiver_margin_s),
        closed_down=lane.closed_down,
        closed_by=lane.closed_by,
        cut_by=None if lane.open else lane.cut_by,
        cut_at_m=None if lane.open or lane.cut_at is None else _rounded(lane.cut_at),
    )


def _finite(seconds: float) -> float | None:
    return None if seconds == float("inf") else round(seconds, 2)


def _rounded(point: tuple[float, float]) -> tuple[float, float]:
    return round(point[0], 2), round(point[1], 2)


def _pace(reading: Any) -> PlanPace:
    return PlanPace(
        up_to_under=reading.under,
        ball_speed_m_per_s=reading.pace.ball_speed,
        reaction_s=reading.pace.reaction_s,
        defender_speed_m_per_s=reading.pace.defender_speed,
        reach_m=reading.pace.reach_m,
        lunge_s=reading.pace.lunge_s,
        lunge_m=reading.pace.lunge_m,
        source=SOURCE,
    )
