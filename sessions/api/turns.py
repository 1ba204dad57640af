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
from sessions import access, actions
from sessions.api.sessions import checked
from sessions.queries import turns


class PairIn(serializers.Serializer):
    """Two players who wear one bib whenever both play, or who never do."""

    first = serializers.UUIDField()
    second = serializers.UUIDField()
    together = serializers.BooleanField()


class TurnsIn(serializers.Serializer):
    keepers = serializers.ListField(
        child=serializers.UUIDField(), required=False, help_text="Players who stay in goal."
    )
    pairs = PairIn(many=True, required=False, help_text="Kept together or apart in every bout, or refused.")


class TurnsOut(serializers.Serializer):
    """A rotation in minutes. Bouts hold ids of players; `players` says who they are and their minutes."""

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
        return self._shown(request, *self._found(request, public_id, station_id))

    @extend_schema(operation_id="sessions_turns_make", request=TurnsIn, responses=TurnsOut)
    def post(self, request: Request, public_id: UUID, station_id: UUID) -> Response:
        """Work it out for whoever is here; bouts that are over stay as they were."""
        session, part, station = self._found(request, public_id, station_id)
        asked = checked(TurnsIn, request)
        actions.rotate_station(
            actor=request.actor,
            session=session,
            part=part,
            station=station,
            keepers=[str(each) for each in asked.get("keepers", [])],
            pairs=[
                turns.PairWish(str(each["first"]), str(each["second"]), each["together"])
                for each in asked.get("pairs", [])
            ],
        )
        return self._shown(request, *self._found(request, public_id, station_id))

    def _found(self, request: Request, public_id: UUID, station_id: UUID) -> tuple[Any, Any, Any]:
        session = access.session_for_turns(request.actor, public_id)
        found = actions.station_in_part(session, station_id)
        if found is None:
            raise Http404
        return session, *found

    def _shown(self, request: Request, session: Any, part: Any, station: Any) -> Response:
        page = turns.turns_page(request.actor, session, part, station)
        if page.rotation is None:
            raise Http404
        note_reading(user_id=request.actor.user_id, squad_ids=[session.squad_id], page="turns")
        found = page.rotation
        bouts, facts = turns.as_data(found, keepers=page.keepers, pairs=page.pairs)
        ids = [each.player.id for each in page.people if each.player.id in found.names]
        players = [_player(key, line) for key, line in zip(ids, page.players, strict=True)]
        return Response(TurnsOut({**facts, "bouts": bouts, "players": players}).data)


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
