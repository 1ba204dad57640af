"""Proposals over the API: asked for, followed, stopped, put into their session; and how much each wish counts."""

from typing import Any, ClassVar
from uuid import UUID

import msgspec
from django.core.exceptions import PermissionDenied
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

from club import queries as club
from club.access import COACHES, DIRECTOR
from club.api_described import Described, answer, shaped
from club.api_tools import IDEMPOTENCY_KEY, etag, idempotent, wanted_version
from club.errors import Clash, FieldProblem, Refused
from club.problems import Conflict
from sessions.access import session_for_planning
from sessions.api import reading
from sessions.api.sessions import IF_MATCH, checked, whole
from sessions.api.shapes import SessionOut
from sessions.proposals import access, actions, queries
from sessions.proposals.api.answers import proposal
from sessions.proposals.api.inputs import TakeIn, WeightsIn, WishIn
from sessions.proposals.api.shapes import ProposalOut, WeightsOut
from sessions.proposals.queries import proposal_weights
from sessions.proposals.wish import KeptPart, Wish, WishedPart

NEEDED = ("minutes", "players", "length", "width")


class AssembleView(APIView):
    """Have a session put together."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_assemble",
        parameters=[IDEMPOTENCY_KEY],
        request=WishIn,
        responses={202: Described(ProposalOut)},
    )
    @idempotent
    def post(self, request: Request) -> Response:
        data = checked(WishIn, request)
        session, wish = _suggested(request, data)
        asked = {"wish": _wished(wish, data), "session": session, "instead": data["instead"]}
        try:
            made = actions.ask_for_proposal(actor=request.actor, **asked)
        except Clash as clash:
            if not clash.other:
                raise
            address = reverse("api-proposal", args=[clash.other], request=request)
            raise Conflict(str(clash), proposal=address) from clash
        return _answer(request, made, status.HTTP_202_ACCEPTED)


class ProposalView(APIView):
    """How far a proposal is, and what came out."""

    who_may = COACHES

    @extend_schema(operation_id="proposals_retrieve", responses=Described(ProposalOut))
    def get(self, request: Request, public_id: UUID) -> Response:
        return _answer(request, access.proposal_for_planning(request.actor, public_id))


class ProposalCancelledView(APIView):
    """End the search: one that waits is off, one that is worked on ends with the best it has found."""

    who_may = COACHES

    @extend_schema(operation_id="proposals_cancel", request=None, responses=Described(ProposalOut))
    def post(self, request: Request, public_id: UUID) -> Response:
        row = access.proposal_for_planning(request.actor, public_id)
        return _answer(request, actions.stop_proposal(computation=row))


class ProposalTakenView(APIView):
    """Put a proposal into its session; If-Match names the session's version."""

    who_may = COACHES

    @extend_schema(
        operation_id="proposals_take", parameters=[IF_MATCH], request=TakeIn, responses=Described(SessionOut)
    )
    def post(self, request: Request, public_id: UUID) -> Response:
        row = access.proposal_for_planning(request.actor, public_id)
        if row.session is None:
            raise Refused(_("This suggestion was made for no session. Plan one with its parts."))
        session = session_for_planning(request.actor, row.session.public_id)
        version, which = wanted_version(request), checked(TakeIn, request)["which"]
        actions.apply_proposal(
            actor=request.actor, session=session, version=version, computation=row, which=which
        )
        return whole(request, session.public_id)


def _suggested(request: Request, data: dict[str, Any]) -> tuple[Any, Wish]:
    """The session, where one is named, and the wish that it or the age group suggests."""
    if data.get("session"):
        session = session_for_planning(request.actor, data["session"])
        return session, queries.wish_for(session, keep=[])
    missing = [
        FieldProblem(name, _("Needed without a session.")) for name in NEEDED if data.get(name) is None
    ]
    if not data.get("age_group"):
        missing.append(FieldProblem("age_group", _("Name a session, or an age group with its numbers.")))
    if missing:
        raise Refused(missing)
    group = reading.one(club.age_groups(), data["age_group"], "age_group", "There is no such age group.")
    if not request.actor.plans_for(group.pk):
        raise PermissionDenied
    return None, queries.wish_for_group(group, **{name: data[name] for name in NEEDED})


def _wished(wish: Wish, data: dict[str, Any]) -> Wish:
    """The suggested wish with what was sent."""
    sent = {name: data[name] for name in PLAIN if name in data}
    if "themes" in data:
        sent["themes"] = _themes(data["themes"])
    if "parts" in data:
        sent["parts"] = tuple(_part(each) for each in data["parts"])
    sent["banned"] = tuple(str(each) for each in data.get("banned", ()))
    return msgspec.structs.replace(wish, **sent)


def _themes(wanted: list[str]) -> tuple[str, ...]:
    """Keys of themes named by id or key. Raises Refused for one that isn't there."""
    themes = club.themes()
    known = {str(each.public_id): each.key for each in themes} | {each.key: each.key for each in themes}
    problems = [
        FieldProblem(f"themes[{at}]", _("There is no such theme."))
        for at, text in enumerate(wanted)
        if text not in known
    ]
    if problems:
        raise Refused(problems)
    return tuple(known[text] for text in wanted)


def _part(data: dict[str, Any]) -> WishedPart:
    keep, drill = data.get("keep"), data.get("drill")
    return WishedPart(
        kind=data["kind"],
        least=data.get("least"),
        most=data.get("most"),
        kept=KeptPart(part=str(keep)) if keep else None,
        drill=str(drill) if drill else None,
        rung=data.get("rung") if drill else None,
        keepers_apart=data["keepers_apart"],
    )


def _answer(request: Request, row: Any, code: int = status.HTTP_200_OK) -> Response:
    address = reverse("api-proposal", args=[row.public_id], request=request)
    headers = {"Location": address} if code == status.HTTP_202_ACCEPTED else {}
    return answer(proposal(row), code, headers)


# As the wish names them; left out, each is what the session suggests.
PLAIN = (
    *("minutes", "players", "keepers", "adults", "length", "width", "load_au", "hardest"),
    *("headers", "set_up_minutes", "kit"),
)


class ProposalWeightsView(APIView):
    """What counts when a session is put together, for the whole club."""

    who_may: ClassVar = {"GET": COACHES, "PATCH": DIRECTOR}

    @extend_schema(operation_id="proposal_weights_retrieve", responses=Described(WeightsOut))
    def get(self, request: Request) -> Response:
        return self._answer()

    @extend_schema(
        operation_id="proposal_weights_update",
        parameters=[IF_MATCH],
        request=WeightsIn,
        responses=Described(WeightsOut),
    )
    def patch(self, request: Request) -> Response:
        """It holds for proposals asked for from now on."""
        version = wanted_version(request)
        actions.weigh_proposals(version=version, **checked(WeightsIn, request))
        return self._answer()

    def _answer(self) -> Response:
        row = proposal_weights()
        return answer(shaped(WeightsOut, row), headers={"ETag": etag(row.version)})
