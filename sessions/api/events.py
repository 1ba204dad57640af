"""Events from the pitch: a list in, an outcome for each out."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Annotated, Any
from uuid import UUID

import msgspec
from django.utils import timezone
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema, inline_serializer
from msgspec import UNSET, Meta, UnsetType
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import reading
from club.access import HELPERS
from club.api_described import Described, answer, shaped
from club.api_parsers import EventParser
from club.errors import Refused
from club.limits import NAME, VERSION
from sessions import access, actions
from sessions.actions.delivery import EventOutcome, Outcome
from sessions.pages.pitch import plan_tag
from sessions.queries import pitch

_EVENT = inline_serializer(
    "DeliveryEventIn",
    {
        "id": serializers.UUIDField(
            help_text="Made by the sender. The same id with the same content counts once."
        ),
        "kind": serializers.CharField(
            help_text="arrived, late, part_started, easier, effort, note and so on."
        ),
        "at": serializers.DateTimeField(help_text="When it happened, by the sender's clock, with time zone."),
    },
    many=True,
)


class DeliveryEventOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of one event: taken, already there, in conflict with another of the same id, or refused."""

    id: str
    outcome: Outcome
    text: str
    understood: bool


class DeliveryEventOutcomes(msgspec.Struct, frozen=True, kw_only=True):
    """An outcome for each event that was sent, in the order of the list."""

    results: list[DeliveryEventOutcome]
    last_seq: int
    now: Annotated[int, Meta(description="The server's clock, milliseconds since 1970.")]
    events: Annotated[
        list[dict[str, Any]] | UnsetType,
        Meta(description="With `since`: what other phones sent after that number."),
    ] = UNSET
    plan: Annotated[
        str | UnsetType,
        Meta(description="With `since`: changes with what was planned, not with what happens."),
    ] = UNSET
    state: Annotated[str | UnsetType, Meta(description="With `since`: where the session stands.")] = UNSET


class SessionEventsView(APIView):
    """What happened at the pitch, appended. Either a list of events, or `{"events": […], "now", "device", "since"}`."""

    who_may = HELPERS
    parser_classes = [EventParser]

    @extend_schema(
        operation_id="sessions_events_create", request=_EVENT, responses=Described(DeliveryEventOutcomes)
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        session = access.session_for_recording(request.actor, public_id)
        batch = read_batch(request.data)
        outcomes = actions.append_events(
            actor=request.actor,
            session=session,
            device=batch["device"],
            events=batch["events"],
            phone_now=batch["now"],
        )
        own = [each.id for each in outcomes]
        news = pitch.events_since(session, batch["since"] or 0, but=own)
        told = None if batch["since"] is None else session
        return answer(outcomes_told(outcomes, news, told))


def outcomes_told(
    outcomes: Sequence[EventOutcome], news: pitch.Happened, session: Any | None
) -> DeliveryEventOutcomes:
    """The answer to a batch, for staff and for a helper's phone alike; with the session where news were asked for."""
    return DeliveryEventOutcomes(
        results=[shaped(DeliveryEventOutcome, each) for each in outcomes],
        last_seq=news.last_seq,
        now=_ms(timezone.now()),
        **({} if session is None else _news(session, news)),
    )


def _news(session: Any, news: pitch.Happened) -> dict[str, Any]:
    """What only who asks for it is told."""
    return {"events": news.events, "plan": plan_tag(session), "state": session.state}


def _ms(moment: datetime) -> int:
    return int(moment.timestamp() * 1000)


def read_batch(data: Any) -> dict[str, Any]:
    """A batch as it was sent: a bare list, or an object around it. Raises Refused beside the field."""
    given: Mapping[str, Any] = data if isinstance(data, Mapping) else {"events": data}
    events = given.get("events")
    if not isinstance(events, Sequence) or isinstance(events, str):
        raise Refused(_("Send a list of events."), "events")
    return {
        "events": events,
        "device": reading.text(given.get("device"), NAME),
        "now": _moment(given.get("now")),
        "since": _number(given.get("since")),
    }


def _moment(value: Any) -> datetime | None:
    """The sender's present moment. Raises Refused for what is no time with its zone."""
    if value is None:
        return None
    found = reading.moment(value)
    if found is None:
        raise Refused(_("The sender's time needs a date, a time and a time zone."), "now")
    return found


def _number(value: Any) -> int | None:
    if value is None:
        return None
    found = reading.whole(value, 0, VERSION)
    if found is None or isinstance(value, str):
        raise Refused(_("This is the number of the last event you have."), "since")
    return found
