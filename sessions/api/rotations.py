"""Rotations that nobody keeps: teams or players through a number of bouts, and who plays next where winner stays on."""

from collections.abc import Callable
from typing import Any

import msgspec
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from msgspec import UNSET, UnsetType
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import STAFF
from club.api_described import Described, answer, shaped
from club.errors import FieldProblem, Refused
from sessions.api import inputs
from sessions.api.reasons import ReasonOut, reasons
from sessions.api.sessions import checked
from sessions.planning.rotation import next_game, rotate_players, rotate_teams
from sessions.planning.rotation.model import PlayerBout, TeamBout

MOST = {"teams": 12, "players": 40, "bouts": 24}
LABEL_LENGTH = 40


class RotationBoutOut(msgspec.Struct, frozen=True, kw_only=True):
    """One bout: of teams, who is `inside` (in which `games`), `outside` and `resting`; of players, who is in which of the
    `places` by role, `waiting`, and `away`.
    """

    number: int
    inside: list[str] | UnsetType = UNSET
    outside: list[str] | UnsetType = UNSET
    resting: list[str] | UnsetType = UNSET
    games: list[list[str]] | UnsetType = UNSET
    places: dict[str, list[str]] | UnsetType = UNSET
    waiting: list[str] | UnsetType = UNSET
    away: list[str] | UnsetType = UNSET


class RotationOut(msgspec.Struct, frozen=True, kw_only=True):
    """Spread and bound in bouts, and in minutes where a bout's length was sent."""

    bouts: list[RotationBoutOut]
    spread: float
    bound: float
    spread_min: float | None
    bound_min: float | None
    proven: bool
    cycle: int
    reasons: list[ReasonOut]


class NextGameOut(msgspec.Struct, frozen=True, kw_only=True):
    playing: list[str]
    waiting: list[str]
    stayed: int


class RotationsView(APIView):
    """Teams or players through inside, outside and rest. Nothing is kept."""

    who_may = STAFF

    @extend_schema(
        operation_id="rotations_create", request=inputs.RotationIn, responses=Described(RotationOut)
    )
    def post(self, request: Request) -> Response:
        data = checked(inputs.RotationIn, request)
        refuse_large(data)
        found = _rotation(data)
        shown = shaped(
            RotationOut,
            found,
            bouts=[_bout(each) for each in found.bouts],
            spread_min=_minutes(found.spread, data),
            bound_min=_minutes(found.bound, data),
            reasons=reasons(found.reasons),
        )
        return answer(shown)


class NextGameView(APIView):
    """Winner stays on, with a cap."""

    who_may = STAFF

    @extend_schema(
        operation_id="rotations_next_game", request=inputs.NextGameIn, responses=Described(NextGameOut)
    )
    def post(self, request: Request) -> Response:
        """Who plays next and who waits; after the cap or a draw both go off, as long as two wait."""
        data = checked(inputs.NextGameIn, request)
        found = _or_refused(
            lambda: next_game(
                (data["playing"][0], data["playing"][1]),
                data["waiting"],
                data.get("winner"),
                stayed=data["stayed"],
                cap=data["cap"],
            )
        )
        return answer(shaped(NextGameOut, found))


def _minutes(bouts: float, data: dict[str, Any]) -> float | None:
    """Bouts in minutes, where a bout's length was said."""
    return round(bouts * data["bout_minutes"], 2) if "bout_minutes" in data else None


def refuse_large(data: dict[str, Any]) -> None:
    """An evening at a pitch is small; what is larger is refused before anything is worked out."""
    problems = []
    if ("teams" in data) == ("players" in data):
        problems.append(FieldProblem("teams", _("Send either teams or players.")))
    for name, most in MOST.items():
        given = data.get(name, 1)
        count = len(given) if isinstance(given, list) else given
        if isinstance(given, bool) or not isinstance(count, int) or not 1 <= count <= most:
            problems.append(
                FieldProblem(name, _("From 1 to {most}, or a list of so many.").format(most=most))
            )
        if isinstance(given, list) and not all(_is_label(each) for each in given):
            problems.append(
                FieldProblem(
                    name,
                    _("Names are text of at most {label_length} characters.").format(
                        label_length=LABEL_LENGTH
                    ),
                )
            )
    if problems:
        raise Refused(problems)


def _is_label(value: Any) -> bool:
    return isinstance(value, str) and 0 < len(value) <= LABEL_LENGTH


def _rotation(data: dict[str, Any]) -> Any:
    if "teams" in data:
        if "inside" not in data:
            raise Refused(_("How many teams play inside at a time?"), "inside")
        optional = {name: data[name] for name in ("outside", "grids") if name in data}
        return _or_refused(
            lambda: rotate_teams(teams=data["teams"], inside=data["inside"], bouts=data["bouts"], **optional)
        )
    if not data.get("slots"):
        raise Refused(_("Which roles are there, with how many places each?"), "slots")
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


def _bout(bout: TeamBout | PlayerBout) -> RotationBoutOut:
    if isinstance(bout, TeamBout):
        return shaped(RotationBoutOut, bout)
    return RotationBoutOut(
        number=bout.number,
        places={role: list(names) for role, names in bout.places},
        waiting=list(bout.waiting),
        away=list(bout.away),
    )
