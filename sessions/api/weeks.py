"""The load ledger of an age group's week, and rotations."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Any
from uuid import UUID

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import reading
from club.access import STAFF
from club.errors import FieldProblem, Refused
from sessions import access, pages
from sessions.api import answers, shapes
from sessions.api.sessions import checked
from sessions.planning.rotation import next_game, rotate_players, rotate_teams

MOST = {"teams": 12, "players": 40, "bouts": 24}
LABEL_LENGTH = 40


class AgeGroupWeek(APIView):
    """A week of each squad of an age group against its budget. No players' names."""

    who_may = STAFF

    @extend_schema(operation_id="age_groups_weeks_retrieve", responses=shapes.AgeGroupWeekOut)
    def get(self, request: Request, public_id: UUID, iso_week: str) -> Response:
        group = access.age_group_for_weeks(request.actor, public_id)
        monday = reading.monday(iso_week)
        if monday is None:
            raise Http404
        squads = [
            answers.squad_week(squad, week, detail=detail)
            for squad, week, detail in pages.age_group_week(request.actor, group, monday)
        ]
        return Response(shapes.AgeGroupWeekOut(answers.age_group_week(group, monday, squads)).data)


class Rotations(APIView):
    """Teams or players through inside, outside and rest. Nothing is kept."""

    who_may = STAFF

    @extend_schema(operation_id="rotations_create", request=shapes.RotationIn, responses=shapes.RotationOut)
    def post(self, request: Request) -> Response:
        data = checked(shapes.RotationIn, request)
        refuse_large(data)
        found = _rotation(data)
        answer = {
            "bouts": [_bout(each) for each in found.bouts],
            "spread": found.spread,
            "bound": found.bound,
            "spread_min": _minutes(found.spread, data),
            "bound_min": _minutes(found.bound, data),
            "proven": found.proven,
            "cycle": found.cycle,
            "reasons": answers.reasons(found.reasons),
        }
        return Response(shapes.RotationOut(answer).data)


class NextGame(APIView):
    """Winner stays on, with a cap."""

    who_may = STAFF

    @extend_schema(
        operation_id="rotations_next_game", request=shapes.NextGameIn, responses=shapes.NextGameOut
    )
    def post(self, request: Request) -> Response:
        """Who plays next and who waits; after the cap or a draw both go off, as long as two wait."""
        data = checked(shapes.NextGameIn, request)
        found = _or_refused(
            lambda: next_game(
                (data["playing"][0], data["playing"][1]),
                data["waiting"],
                data.get("winner"),
                stayed=data["stayed"],
                cap=data["cap"],
            )
        )
        return Response(shapes.NextGameOut(asdict(found)).data)


def _minutes(bouts: float, data: dict[str, Any]) -> float | None:
    """Bouts in minutes, where a bout's length was said."""
    return round(bouts * data["bout_minutes"], 2) if "bout_minutes" in data else None


def refuse_large(data: dict[str, Any]) -> None:
    """An evening at a pitch is small; what is larger is refused before anything is worked out."""
    problems = []
    if ("teams" in data) == ("players" in data):
        problems.append(FieldProblem("teams", "Send either teams or players."))
    for name, most in MOST.items():
        given = data.get(name, 1)
        count = len(given) if isinstance(given, list) else given
        if isinstance(given, bool) or not isinstance(count, int) or not 1 <= count <= most:
            problems.append(FieldProblem(name, f"From 1 to {most}, or a list of so many."))
        if isinstance(given, list) and not all(_is_label(each) for each in given):
            problems.append(FieldProblem(name, f"Names are text of at most {LABEL_LENGTH} characters."))
    if problems:
        raise Refused(problems)


def _is_label(value: Any) -> bool:
    return isinstance(value, str) and 0 < len(value) <= LABEL_LENGTH


def _rotation(data: dict[str, Any]) -> Any:
    if "teams" in data:
        if "inside" not in data:
            raise Refused("How many teams play inside at a time?", "inside")
        optional = {name: data[name] for name in ("outside", "grids") if name in data}
        return _or_refused(
            lambda: rotate_teams(teams=data["teams"], inside=data["inside"], bouts=data["bouts"], **optional)
        )
    if not data.get("slots"):
        raise Refused("Which roles are there, with how many places each?", "slots")
    given: dict[str, Any] = {name: data[name] for name in ("pinned", "only") if name in data}
    if "presence" in data:
        given["presence"] = {name: tuple(spell) for name, spell in data["presence"].items()}
    return _or_refused(
        lambda: rotate_players(players=data["players"], slots=data["slots"], bouts=data["bouts"], **given)
    )


def _or_refused(make: Callable[[], Any]) -> Any:
    """The pure packages say “field: what is wrong with it”."""
    try:
        return make()
    except ValueError as error:
        field, _colon, text = str(error).partition(": ")
        raise Refused(text or str(error), field.split(" ")[0] if text else "") from error


def _bout(bout: Any) -> dict[str, Any]:
    data = asdict(bout)
    if "places" in data:
        data["places"] = {role: list(names) for role, names in bout.places}
    return data
