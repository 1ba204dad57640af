"""Who is in which bib in which bout, over the API: for those who may read the names."""

from typing import Any
from uuid import UUID

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club.access import HELPERS
from club.actions import note_reading
from club.api_fields import Several, Whole
from club.choices import NamesOn
from club.limits import LIST, NAME
from sessions import access, actions, pages
from sessions.api.sessions import checked
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
        help_text="Kept together or apart in every bout, or refused.",
    )


class TurnsOut(serializers.Serializer):
    """A rotation in minutes. Bouts hold ids of players; `players` says who they are and their minutes."""

    version = serializers.IntegerField(help_text="How often it was worked out.")
    spread_min = serializers.FloatField()
    bound_min = serializers.FloatField()
    proven = serializers.BooleanField()
    whole_teams = serializers.BooleanField()
    cycle = serializers.IntegerField()
    changes = serializers.IntegerField()
    bouts = serializers.ListField(child=serializers.DictField())
    players = serializers.ListField(child=serializers.DictField())


class StationTurns(APIView):
    """The rotation of a station's players."""

    who_may = HELPERS

    @extend_schema(operation_id="sessions_turns", responses=TurnsOut)
    def get(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """What was worked out, with names and minutes for the night and four weeks; 404 before that."""
        return self._shown(request, *station_for_turns(request, public_id, station_id))

    @extend_schema(operation_id="sessions_turns_make", request=TurnsIn, responses=TurnsOut)
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
        found = page.rotation
        bouts, facts = turns.as_data(found, keepers=page.keepers, pairs=page.pairs)
        ids = [each.player.id for each in page.people if each.player.id in found.names]
        players = [_player(key, line) for key, line in zip(ids, page.players, strict=True)]
        return Response(TurnsOut({**facts, "version": page.version, "bouts": bouts, "players": players}).data)


class WinnerIn(serializers.Serializer):
    """How a bout ended: the bib that won, `draw`, or empty to take the last bout noted back."""

    grid = Whole(default=1, min_value=1, help_text="Grids are counted from 1.")
    bout = Whole(min_value=1, help_text="The bout that is on; to take back, the last noted.")
    ended = serializers.CharField(allow_blank=True, max_length=NAME)
    cap = Whole(required=False, help_text="Games running at most, from the first bout; left out: as before.")


class GameOut(serializers.Serializer):
    number = serializers.IntegerField()
    clock = serializers.CharField()
    playing = serializers.ListField(child=serializers.CharField(), min_length=2, max_length=2)
    waiting = serializers.ListField(child=serializers.CharField(), help_text="Next on first.")
    stayed = serializers.IntegerField(help_text="Games running of the side that stayed, this one among them.")
    ended = serializers.CharField(help_text="A bib, draw, or empty while it is on.")


class GridWinnersOut(serializers.Serializer):
    grid = serializers.IntegerField()
    cap = serializers.IntegerField()
    games = GameOut(many=True)


class WinnersOut(serializers.Serializer):
    """Each grid has its own games and order; `without` are grids without two sides of one size and a third that waits."""

    grids = GridWinnersOut(many=True)
    without = serializers.ListField(child=serializers.IntegerField())


class StationWinners(APIView):
    """Winner stays on, grid by grid. Bibs stand in it, no names."""

    who_may = HELPERS

    @extend_schema(operation_id="sessions_winners", responses=WinnersOut)
    def get(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """The games that were played, the one that is on and who comes next."""
        return self._shown(*station_for_turns(request, public_id, station_id))

    @extend_schema(operation_id="sessions_winners_note", request=WinnerIn, responses=WinnersOut)
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
        return Response(WinnersOut({"grids": found, "without": without}).data)


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


def _player(key: str, line: Any) -> dict[str, Any]:
    return {
        "id": key,
        "name": line.name,
        "shirt": line.shirt,
        "night": _minutes(line.night),
        "four_weeks": _minutes(line.weeks),
    }


def _minutes(shares: Any) -> dict[str, Any]:
    return {
        "inside_min": shares.inside_min,
        "outside_min": shares.outside_min,
        "waiting_min": shares.waiting_min,
        "share": shares.share,
    }
