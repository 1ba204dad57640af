"""Who is in which bib in which bout, over the API: for those who may read the names."""

from typing import Annotated, Any
from uuid import UUID

import msgspec
from django.http import Http404
from drf_spectacular.utils import extend_schema
from msgspec import Meta
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import HELPERS
from club.actions import note_reading
from club.api_described import Described, answer, shaped
from club.api_fields import Several, Whole
from club.choices import NamesOn
from club.limits import LIST, NAME
from sessions import access, actions, pages
from sessions.api.sessions import checked
from sessions.planning.rotation import PeopleBout, PeopleRotation
from sessions.queries import turns


class PairIn(serializers.Serializer):
    """Two players who wear one bib whenever both play, or who never do."""

    first = serializers.UUIDField()
    second = serializers.UUIDField()
    together = serializers.BooleanField()


class TurnsIn(serializers.Serializer):
    seen = Whole(
        required=False,
        help_text="The version that was looked at, 0 for none: 409 where somebody has worked it out since.",
    )
    keepers = Several(child=serializers.UUIDField(), required=False, help_text="Players who stay in goal.")
    pairs = PairIn(
        many=True,
        required=False,
        max_length=LIST,  # type: ignore[call-arg]
        help_text="Kept together or apart in every round, or refused.",
    )


class InBibOut(msgspec.Struct, frozen=True, kw_only=True):
    """Who wears a bib, and where that bib plays. Keepers have the bib `keeper`."""

    bib: str
    place: str
    players: list[str]


class TurnsBoutOut(msgspec.Struct, frozen=True, kw_only=True):
    """One bout. `loans` are player, own bib and bib played for, where a team borrows or lends somebody."""

    number: int
    teams: list[InBibOut]
    waiting: list[str]
    away: list[str]
    loans: list[tuple[str, str, str]]


class SharesOut(msgspec.Struct, frozen=True, kw_only=True):
    """Minutes; `share` is minutes in play ÷ minutes present, null for who was never there."""

    inside_min: float
    outside_min: float
    waiting_min: float
    share: float | None


class TurnsPlayerOut(msgspec.Struct, frozen=True, kw_only=True):
    id: str
    name: str
    shirt: int | None
    night: SharesOut
    four_weeks: SharesOut


class TurnsOut(msgspec.Struct, frozen=True, kw_only=True):
    """A rotation in minutes. Bouts hold ids of players; `players` says who they are and their minutes."""

    version: Annotated[int, Meta(description="How often it was worked out.")]
    spread_min: float
    bound_min: float
    proven: bool
    whole_teams: bool
    cycle: int
    changes: int
    bouts: list[TurnsBoutOut]
    players: list[TurnsPlayerOut]


class StationTurnsView(APIView):
    """The rotation of a station's players."""

    who_may = HELPERS

    @extend_schema(operation_id="sessions_turns", responses=Described(TurnsOut))
    def get(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """What was worked out, with names and minutes for the night and four weeks; 404 before that."""
        return self._shown(request, *station_for_turns(request, public_id, station_id))

    @extend_schema(operation_id="sessions_turns_make", request=TurnsIn, responses=Described(TurnsOut))
    def post(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """Work it out for whoever is here; bouts that are over stay as they were."""
        session, part, station = station_for_turns(request, public_id, station_id)
        asked = checked(TurnsIn, request)
        actions.rotate_station(
            actor=request.actor,
            session=session,
            part=part,
            station=station,
            seen=asked.get("seen"),
            keepers=[str(each) for each in asked.get("keepers", [])],
            pairs=[
                turns.PairWish(str(each["first"]), str(each["second"]), each["together"])
                for each in asked.get("pairs", [])
            ],
        )
        return self._shown(request, *station_for_turns(request, public_id, station_id))

    def _shown(self, request: Request, session: Any, part: Any, station: Any) -> Response:
        page = read_turns(request, session, part, station)
        if page.rotation is None:
            raise Http404
        return answer(_turns(page, page.rotation))


class WinnerIn(serializers.Serializer):
    """How a bout ended: the bib that won, `draw`, or empty to take the last bout noted back."""

    grid = Whole(default=1, min_value=1, help_text="Grids are counted from 1.")
    bout = Whole(min_value=1, help_text="The round that is on; to undo, the last noted.")
    ended = serializers.CharField(allow_blank=True, max_length=NAME)
    cap = Whole(required=False, help_text="Games running at most, from the first round; left out: as before.")


class GameOut(msgspec.Struct, frozen=True, kw_only=True):
    number: int
    clock: str
    playing: tuple[str, str]
    waiting: Annotated[list[str], Meta(description="Next on first.")]
    stayed: Annotated[int, Meta(description="Games running of the side that stayed, this one among them.")]
    ended: Annotated[str, Meta(description="A bib, draw, or empty while it is on.")]


class GridWinnersOut(msgspec.Struct, frozen=True, kw_only=True):
    grid: int
    cap: int
    games: list[GameOut]


class WinnersOut(msgspec.Struct, frozen=True, kw_only=True):
    """Each grid has its own games and order; `without` are grids without two sides of one size and a third that waits."""

    grids: list[GridWinnersOut]
    without: list[int]


class StationWinnersView(APIView):
    """Winner stays on, grid by grid. Bibs stand in it, no names."""

    who_may = HELPERS

    @extend_schema(operation_id="sessions_winners", responses=Described(WinnersOut))
    def get(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """The games that were played, the one that is on and who comes next."""
        return self._shown(*station_for_turns(request, public_id, station_id))

    @extend_schema(operation_id="sessions_winners_note", request=WinnerIn, responses=Described(WinnersOut))
    def post(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """Note how the bout that is on ended; a bout that was noted already is refused."""
        session, part, station = station_for_turns(request, public_id, station_id)
        actions.note_winner(session=session, part=part, station=station, **checked(WinnerIn, request))
        return self._shown(*station_for_turns(request, public_id, station_id))

    def _shown(self, session: Any, part: Any, station: Any) -> Response:
        places = turns.places_of(station, part.row.bouts)
        found = turns.winner_stays(places, part, turns.kept_turns(session, station.row.public_id))
        staying = {each.grid for each in found}
        without = [number for number in range(1, len(places.grids) + 1) if number not in staying]
        grids = [shaped(GridWinnersOut, each) for each in found]
        return answer(WinnersOut(grids=grids, without=without))


def station_for_turns(request: Request, public_id: UUID, station_id: UUID) -> tuple[Any, Any, Any]:
    """A session read with its turns, and a station of it with its part."""
    session = access.session_for_turns(request.actor, public_id)
    found = actions.station_in_part(session, station_id)
    if found is None:
        raise Http404
    return session, *found


def read_turns(request: Any, session: Any, part: Any, station: Any) -> pages.TurnsPage:
    """The page of turns with its names, which is written down."""
    note_reading(user_id=request.actor.user_id, squad_ids=[session.squad_id], page=NamesOn.TURNS)
    return pages.turns_page(request.actor, session, part, station)


def _turns(page: pages.TurnsPage, found: PeopleRotation) -> TurnsOut:
    ids = [each.player.id for each in page.people if each.player.id in found.names]
    players = [
        shaped(TurnsPlayerOut, line, id=key, four_weeks=line.weeks)
        for key, line in zip(ids, page.players, strict=True)
    ]
    return shaped(
        TurnsOut,
        found,
        version=page.version,
        bouts=[_bout(each) for each in found.bouts],
        players=players,
    )


def _bout(bout: PeopleBout) -> TurnsBoutOut:
    teams = [shaped(InBibOut, each, players=each.names) for each in bout.teams]
    return shaped(TurnsBoutOut, bout, teams=teams)
