"""Proposals over the API: asked for, followed, stopped, and put into their session."""

from typing import Any
from uuid import UUID

import msgspec
from django.core.exceptions import PermissionDenied
from drf_spectacular.utils import extend_schema
from rest_framework import serializers as s
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

from club import queries as club
from club.access import COACHES
from club.api_fields import Named, Number, Several, Whole
from club.api_tools import idempotent, wanted_version
from club.errors import Clash, FieldProblem, Refused
from club.limits import NAME
from club.problems import Conflict
from sessions import access, actions
from sessions.api import answers, reading
from sessions.api.sessions import IF_MATCH, ONCE, checked, whole
from sessions.api.shapes import ReasonOut, SessionOut
from sessions.choices import ComputationState, PartKind
from sessions.queries import proposing
from sessions.queries.proposing import KeptPart, Wish, WishedPart

# As the wish names them; left out, each is what the session suggests.
PLAIN = (
    *("minutes", "players", "keepers", "adults", "length", "width", "load_au", "hardest"),
    *("headers", "set_up_minutes", "kit"),
)
NEEDED = ("minutes", "players", "length", "width")


class WishedPartIn(s.Serializer):
    """A part in its place. `keep` names a part of the session that stays; `drill` and `rung` settle what is played."""

    kind = s.ChoiceField(choices=PartKind.choices, default=PartKind.PRACTICE)
    least = Whole(required=False, allow_null=True, help_text="Minutes; left out: as usual.")
    most = Whole(required=False, allow_null=True)
    keep = s.UUIDField(required=False, allow_null=True)
    drill = s.UUIDField(required=False, allow_null=True)
    rung = s.CharField(required=False, allow_blank=True, allow_null=True, max_length=NAME)
    keepers_apart = s.BooleanField(
        default=False,
        help_text="The keepers have a station, a drill and an adult of their own: one practice part at most.",
    )


class WishIn(s.Serializer):
    """What tonight is. With a `session` all else may be left out; without one, `age_group` and its numbers are needed."""

    session = s.UUIDField(required=False)
    age_group = s.UUIDField(required=False)
    themes = Several(
        child=s.CharField(max_length=NAME), required=False, max_length=6, help_text="Ids or keys."
    )
    minutes = Whole(required=False, help_text="Changeovers and clearing included.")
    players = Whole(required=False)
    keepers = Whole(required=False, allow_null=True)
    adults = Whole(required=False)
    length = Number(required=False)
    width = Number(required=False)
    load_au = Number(required=False, allow_null=True)
    hardest = Number(required=False, allow_null=True, help_text="CR10 of the hardest part.")
    headers = Whole(required=False, allow_null=True)
    set_up_minutes = Whole(required=False, allow_null=True)
    kit = Named(child=Whole(min_value=0), required=False, allow_null=True)
    parts = WishedPartIn(many=True, required=False)
    banned = Several(child=s.UUIDField(), required=False, help_text="Drills that are not wanted tonight.")
    instead = s.BooleanField(
        default=False,
        help_text="Stop the one that you have open; otherwise the answer is 409 with its address.",
    )


class KeepersOut(s.Serializer):
    """The keepers' station of a part, at the same time as the others'."""

    drill = s.CharField()
    rung = s.CharField()
    title = s.CharField()
    players = s.IntegerField()
    numbers = s.CharField()
    grids = s.IntegerField()
    length_m = s.FloatField()
    width_m = s.FloatField()


class ProposedPartOut(s.Serializer):
    number = s.CharField()
    kind = s.ChoiceField(choices=PartKind.choices)
    drill = s.CharField(help_text="Empty for a part that stays as it is.")
    rung = s.CharField()
    title = s.CharField()
    minutes = s.IntegerField()
    starts_min = s.IntegerField()
    changeover_minutes = s.IntegerField()
    effort = s.FloatField()
    load_au = s.FloatField()
    numbers = s.CharField()
    grids = s.IntegerField()
    length_m = s.FloatField()
    width_m = s.FloatField()
    keepers = KeepersOut(
        allow_null=True, help_text="With the keepers apart; numbers and sides are then the others'."
    )
    kept = s.BooleanField()
    reasons = ReasonOut(many=True)
    instead = s.ListField(child=s.CharField())


class ProposedSessionOut(s.Serializer):
    objective = s.FloatField()
    minutes = s.IntegerField()
    load_au = s.FloatField()
    headers = s.IntegerField()
    set_up_minutes = s.IntegerField()
    parts = ProposedPartOut(many=True)


class ProposalOut(s.Serializer):
    """`best` and `alternatives` once it is done; `clash` names limits that cannot hold together, `reasons` say why."""

    id = s.UUIDField()
    session = s.UUIDField(allow_null=True)
    state = s.ChoiceField(choices=ComputationState.choices)
    before = s.IntegerField(allow_null=True, help_text="How many go first; null unless it waits.")
    wait_s = s.IntegerField(
        allow_null=True, help_text="About how many seconds until its turn, by what the last ones took."
    )
    so_far = s.ListField(child=s.DictField(), help_text="The best so far, not final.")
    best = ProposedSessionOut(allow_null=True)
    alternatives = ProposedSessionOut(many=True)
    proven = s.BooleanField()
    gap = s.FloatField(allow_null=True, help_text="By what share a better one could score higher at most.")
    clash = s.ListField(child=s.CharField())
    reasons = ReasonOut(many=True)


class TakeIn(s.Serializer):
    which = Whole(default=0, help_text="0 is the best, 1 and 2 the alternatives.")


class Assemble(APIView):
    """Have a session put together."""

    who_may = COACHES

    @extend_schema(
        operation_id="sessions_assemble", parameters=[ONCE], request=WishIn, responses={202: ProposalOut}
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


class Proposal(APIView):
    """How far a proposal is, and what came out."""

    who_may = COACHES

    @extend_schema(operation_id="proposals_retrieve", responses=ProposalOut)
    def get(self, request: Request, public_id: UUID) -> Response:
        return _answer(request, access.proposal_for_planning(request.actor, public_id))


class ProposalCancelled(APIView):
    """End the search: one that waits is off, one that is worked on ends with the best it has found."""

    who_may = COACHES

    @extend_schema(operation_id="proposals_cancel", request=None, responses=ProposalOut)
    def post(self, request: Request, public_id: UUID) -> Response:
        row = access.proposal_for_planning(request.actor, public_id)
        return _answer(request, actions.stop_proposal(computation=row))


class ProposalTaken(APIView):
    """Put a proposal into its session; If-Match names the session's version."""

    who_may = COACHES

    @extend_schema(operation_id="proposals_take", parameters=[IF_MATCH], request=TakeIn, responses=SessionOut)
    def post(self, request: Request, public_id: UUID) -> Response:
        row = access.proposal_for_planning(request.actor, public_id)
        if row.session is None:
            raise Refused("This proposal was made for no session. Plan one with its parts.")
        session = access.session_for_planning(request.actor, row.session.public_id)
        version, which = wanted_version(request), checked(TakeIn, request)["which"]
        actions.take_proposal(
            actor=request.actor, session=session, version=version, computation=row, which=which
        )
        return whole(request, session.public_id)


def _suggested(request: Request, data: dict[str, Any]) -> tuple[Any, Wish]:
    """The session, where one is named, and the wish that it or the age group suggests."""
    if data.get("session"):
        session = access.session_for_planning(request.actor, data["session"])
        return session, proposing.wish_for(session, keep=[])
    missing = [FieldProblem(name, "Needed without a session.") for name in NEEDED if data.get(name) is None]
    if not data.get("age_group"):
        missing.append(FieldProblem("age_group", "Name a session, or an age group with its numbers."))
    if missing:
        raise Refused(missing)
    group = reading.one(club.age_groups(), data["age_group"], "age_group", "There is no such age group.")
    if not request.actor.plans_for(group.pk):
        raise PermissionDenied
    return None, proposing.wish_for_group(group, **{name: data[name] for name in NEEDED})


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
        FieldProblem(f"themes[{at}]", "There is no such theme.")
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
    result, turn = row.result, proposing.turn_of(row)
    body = {
        "id": row.public_id,
        "session": row.session.public_id if row.session else None,
        "state": row.state,
        "before": turn.before if turn else None,
        "wait_s": turn.wait_s if turn else None,
        "so_far": row.progress.get("so_far", []),
        "best": _session(result["session"]) if result.get("session") else None,
        "alternatives": [_session(each) for each in result.get("alternatives", [])],
        "proven": result.get("proven", False),
        "gap": result.get("gap"),
        "clash": result.get("clash", []),
        "reasons": _reasons(result.get("reasons", [])),
    }
    address = reverse("api-proposal", args=[row.public_id], request=request)
    headers = {"Location": address} if code == status.HTTP_202_ACCEPTED else {}
    return Response(ProposalOut(body).data, status=code, headers=headers)


def _session(kept: dict[str, Any]) -> dict[str, Any]:
    return {**kept, "parts": [_proposed(part) for part in kept["parts"]]}


def _proposed(part: dict[str, Any]) -> dict[str, Any]:
    stays = proposing.stays(part)
    own = {"drill": "", "rung": ""} if stays else {}
    return {**part, **own, "kept": stays or part["pinned"], "reasons": _reasons(part["reasons"])}


def _reasons(kept: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """As everywhere, save that parts are named by number in the text: they have no id yet."""
    return [{**each, "part": None} for each in answers.reasons([proposing.reason_from(one) for one in kept])]
