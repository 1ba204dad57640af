"""Using a session again, over the API: for another group, over weeks, on other ground; orders that the club keeps."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import msgspec
from django.core.exceptions import PermissionDenied
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import queries as club
from club.access import COACHES, STAFF
from club.api_described import Described, answer, one_of, shaped
from club.api_fields import Number, Whole
from club.api_tools import IDEMPOTENCY_KEY, idempotent, wanted_version
from club.errors import FieldProblem, Refused
from club.limits import LABEL
from sessions import access, actions, queries
from sessions.api import reading
from sessions.api.inputs import SessionIn
from sessions.api.reasons import ReasonOut, reasons
from sessions.api.sessions import IF_MATCH, checked
from sessions.choices import PartKind
from sessions.pages.reuse import what_changes
from sessions.queries import reuse
from sessions.validators import minutes_between

SPACES = ("half", "hall", "other")


class CopyIn(SessionIn):
    """Where a session is taken to: its squad, time, place and people. Parts come from the session itself."""

    def get_fields(self) -> dict[str, Any]:
        found: dict[str, Any] = super().get_fields()
        found.pop("parts")
        return found


class CopyOut(msgspec.Struct, frozen=True, kw_only=True):
    """A session that was fitted anew, and all that is different."""

    session: UUID
    changes: list[ReasonOut]


class WeeksIn(serializers.Serializer):
    weeks = Whole(help_text=f"From 1 to {actions.MOST_WEEKS}.")


class WeekOut(msgspec.Struct, frozen=True, kw_only=True):
    """One week of a series; `problems` say why there is no session in it."""

    day: date
    session: UUID | None
    problems: list[str]
    changes: list[ReasonOut]


class GroundIn(serializers.Serializer):
    """Other ground: half of what is booked, a hall (40 × 20 m unless said), or a size in metres."""

    space = serializers.ChoiceField(choices=SPACES)
    length = Number(required=False, min_value=1, max_value=130)
    width = Number(required=False, min_value=1, max_value=130)
    players = Whole(required=False, min_value=1, max_value=60)


class OrderDrillOut(msgspec.Struct, frozen=True, kw_only=True):
    """A drill of a template's part; `id` is null, and `gone` true, where it is in the library no more."""

    id: UUID | None
    title: str
    variation: str
    gone: bool


class OrderPartOut(msgspec.Struct, frozen=True, kw_only=True):
    """With drills a part says its rounds; without, they are null."""

    kind: Annotated[str, one_of(PartKind.choices)]
    title: str
    minutes: int
    cr10: float
    bouts: int | None
    bout_s: int | None
    rest_s: int | None
    drills: list[OrderDrillOut]


class OrderOut(msgspec.Struct, frozen=True, kw_only=True):
    """What comes after what, and how long. A ready session has its drills, and says for whom it is; of others that is null."""

    id: UUID
    name: str
    about: str
    theme: UUID | None
    minutes: int | None
    under_from: int | None
    under_to: int | None
    players_from: int | None
    players_to: int | None
    parts: list[OrderPartOut]


class OrderIn(serializers.Serializer):
    name = serializers.CharField(max_length=LABEL)
    with_drills = serializers.BooleanField(default=False, help_text="Keep its drills, too: a ready session.")


class ReadyIn(serializers.Serializer):
    template = serializers.UUIDField(help_text="A session template that has drills.")


class CopiesView(APIView):
    """The same evening for another squad."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_copy",
        parameters=[IDEMPOTENCY_KEY],
        request=CopyIn,
        responses={201: Described(CopyOut)},
    )
    @idempotent
    def post(self, request: Request, public_id: UUID) -> Response:
        """Fitted to that squad's ages, numbers, budget, pitch and heading rule; answers what is different."""
        asked = _asked(request, public_id)
        made, changes = actions.copy_refitted(
            actor=request.actor,
            source=asked.source,
            target=asked.target,
            age_group_id=asked.squad.age_group_id,
            squad_id=asked.squad.pk,
            **asked.frame,
        )
        copy = CopyOut(session=made.public_id, changes=reasons(changes))
        return answer(copy, status.HTTP_201_CREATED)


class CopyChangesView(APIView):
    """What a copy would be like."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_copy_changes", request=CopyIn, responses=Described(ReasonOut, many=True)
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """What would be different; nothing is kept."""
        asked = _asked(request, public_id)
        changes = what_changes(asked.source, asked.target, actor=request.actor)
        return answer(reasons(changes))


@dataclass(frozen=True)
class _Asked:
    """A copy that is asked for: of what, for which squad, where and when."""

    source: Any
    squad: Any
    frame: dict[str, Any]
    target: Any


def _asked(request: Request, public_id: UUID) -> _Asked:
    source = access.session_for_reading(request.actor, public_id)
    data = checked(CopyIn, request)
    squad = reading.one(club.squads(), data["squad"], "squad", "There is no such team this season.")
    if not request.actor.plans_for(squad.age_group_id):
        raise PermissionDenied
    frame = reading.frame(data)
    wanted = set(data.get("zones", ()))
    target = reuse.group_target(
        squad.age_group_id,
        minutes=minutes_between(data["starts"], data["ends"]),
        players=frame["players_expected"],
        adults=club.adults_counted(frame["place"].staff_ids, data["day"]),
        zones=[each for each in club.zones() if each.public_id in wanted],
        source=source,
    )
    return _Asked(source, squad, frame, target)


class SeriesView(APIView):
    """The next weeks of a session."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_series",
        parameters=[IDEMPOTENCY_KEY],
        request=WeeksIn,
        responses={201: Described(WeekOut, many=True)},
    )
    @idempotent
    def post(self, request: Request, public_id: UUID) -> Response:
        """The same evening and place, the game one rung up each week; a week that is taken says by whom."""
        source = access.session_for_planning(request.actor, public_id)
        weeks = checked(WeeksIn, request)["weeks"]
        made = actions.plan_series(actor=request.actor, source=source, weeks=weeks)
        rows = [
            WeekOut(
                day=each.day,
                session=each.session.public_id if each.session else None,
                problems=list(each.problems),
                changes=reasons(each.changes),
            )
            for each in made
        ]
        return answer(rows, status.HTTP_201_CREATED)


class PlanBView(APIView):
    """A session on other ground."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_plan_b",
        parameters=[
            OpenApiParameter("space", str, enum=SPACES),
            OpenApiParameter("length", float),
            OpenApiParameter("width", float),
            OpenApiParameter("players", int),
        ],
        responses=Described(ReasonOut, many=True),
    )
    def get(self, request: Request, public_id: UUID) -> Response:
        """What would change; nothing is kept."""
        session = access.session_for_planning(request.actor, public_id)
        target = _ground(session, request.query_params)
        changes = what_changes(session, target, actor=request.actor)
        return answer(reasons(changes))

    @extend_schema(
        operation_id="sessions_plan_b_take",
        parameters=[IF_MATCH],
        request=GroundIn,
        responses=Described(CopyOut),
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """Play it like that."""
        session = access.session_for_planning(request.actor, public_id)
        made, changes = actions.refit_session(
            actor=request.actor,
            session=session,
            version=wanted_version(request),
            target=_ground(session, request.data),
        )
        return answer(CopyOut(session=made.public_id, changes=reasons(changes)))


def _ground(session: Any, given: Any) -> Any:
    form = GroundIn(data=given)
    form.is_valid(raise_exception=True)
    data = form.validated_data
    if data["space"] == "other" and not (data.get("length") and data.get("width")):
        raise Refused([FieldProblem("length", _("How long and how wide, in metres?"))])
    return reuse.other_ground(
        session,
        data["space"],
        players=data.get("players"),
        length_m=data.get("length"),
        width_m=data.get("width"),
    )


class PartOrdersView(APIView):
    """Orders of parts that the club keeps."""

    who_may = STAFF

    @extend_schema(operation_id="part_orders_list", responses=Described(OrderOut, many=True))
    def get(self, request: Request) -> Response:
        """What comes after what, and how long; ready sessions with their drills."""
        return answer([_order(each) for each in queries.part_orders()])


class SessionTemplateView(APIView):
    """The order of a session's parts, kept for the club."""

    who_may = COACHES

    @extend_schema(operation_id="sessions_keep_order", request=OrderIn, responses={201: Described(OrderOut)})
    def post(self, request: Request, public_id: UUID) -> Response:
        """Keep it under a name; the same name is written over."""
        session = access.session_for_planning(request.actor, public_id)
        kept = actions.keep_order(actor=request.actor, session=session, **checked(OrderIn, request))
        saved = queries.part_order(kept.public_id)
        return answer(_order(saved), status.HTTP_201_CREATED)


class ReadySessionView(APIView):
    """A ready session for a session that has no drill yet."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_use_ready",
        parameters=[IF_MATCH],
        request=ReadyIn,
        responses=Described(CopyOut),
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        """Fill it, every drill set up for its players, space and minutes; answers what is not as the template has it."""
        session = access.session_for_planning(request.actor, public_id)
        template = queries.part_order(checked(ReadyIn, request)["template"])
        wanted = wanted_version(request)
        if template is None:
            raise Refused([FieldProblem("template", _("There is no such session template."))])
        before = len(session.used_again)
        made = actions.use_ready(actor=request.actor, session=session, version=wanted, template=template)
        changes = queries.used_again(made)[0].changes if len(made.used_again) > before else ()
        return answer(CopyOut(session=made.public_id, changes=reasons(changes)))


def _order(order: Any) -> OrderOut:
    rows = list(order.drills.all())
    parts = [
        OrderPartOut(
            kind=part["kind"],
            title=part["title"],
            minutes=part["minutes"],
            cr10=part["cr10"],
            bouts=part.get("bouts"),
            bout_s=part.get("bout_s"),
            rest_s=part.get("rest_s"),
            drills=[_drill(each) for each in rows if each.part == number],
        )
        for number, part in enumerate(order.parts)
    ]
    theme = order.theme.public_id if order.theme else None
    return shaped(OrderOut, order, id=order.public_id, theme=theme, parts=parts)


def _drill(row: Any) -> OrderDrillOut:
    return OrderDrillOut(
        id=row.drill.public_id if row.drill else None,
        title=row.drill.title if row.drill else row.title,
        variation=row.variation_key,
        gone=row.drill is None or row.drill.retired_at is not None,
    )
