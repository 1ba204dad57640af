"""The club over the API: what programs need to read, through the same queries as the pages."""

from typing import Any
from uuid import UUID

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import access, actions, queries, reading
from club.access import COACHES, HELPERS, STAFF, found
from club.ages import OLDEST
from club.api import answers, shapes
from club.api_described import Described, Listed, answer
from club.api_tools import PAGING, etag, paged
from club.choices import NamesOn


class AgeGroupsView(APIView):
    """Age groups of the running season, youngest first."""

    who_may = STAFF

    @extend_schema(operation_id="age_groups_list", parameters=PAGING, responses=Listed(shapes.AgeGroupShape))
    def get(self, request: Request) -> Response:
        return paged(self, request, queries.age_groups(), answers.age_group)


class AgeGroupView(APIView):
    """One age group, of any season."""

    who_may = STAFF

    @extend_schema(responses=Described(shapes.AgeGroupShape))
    def get(self, request: Request, public_id: UUID) -> Response:
        row = found(queries.age_group(public_id))
        return answer(answers.age_group(row), headers={"ETag": etag(row.version)})


class SquadsView(APIView):
    """Squads of the running season, with the number of their players."""

    who_may = STAFF

    @extend_schema(operation_id="squads_list", parameters=PAGING, responses=Listed(shapes.SquadShape))
    def get(self, request: Request) -> Response:
        return paged(self, request, queries.squads(), answers.squad)


class SquadView(APIView):
    """One squad of the running season."""

    who_may = STAFF

    @extend_schema(responses=Described(shapes.SquadShape))
    def get(self, request: Request, public_id: UUID) -> Response:
        row = found(queries.squad(public_id))
        return answer(answers.squad(row), headers={"ETag": etag(row.version)})


class PlayersView(APIView):
    """Players of a squad, for the staff of its age group and the director. Who reads them is noted."""

    who_may = HELPERS

    @extend_schema(
        operation_id="squads_players_list", parameters=PAGING, responses=Listed(shapes.PlayerShape)
    )
    def get(self, request: Request, public_id: UUID) -> Response:
        squad = access.squad_with_names(request.actor, public_id)
        actions.note_reading(user_id=request.actor.user_id, squad_ids=[squad.pk], page=NamesOn.API)
        return paged(self, request, queries.players_of([squad.pk]), answers.player)


class OutUntilLiftedView(APIView):
    """After a knock on the head. The staff of a player's teams set it, their coaches and the director lift it."""

    who_may = {"GET": HELPERS, "POST": HELPERS, "DELETE": COACHES}

    @extend_schema(operation_id="players_out_retrieve", responses=Described(shapes.PlayerOutShape))
    def get(self, request: Request, public_id: UUID) -> Response:
        return self._answer(request, access.player_to_set_out(request.actor, public_id))

    @extend_schema(operation_id="players_out_set", request=None, responses=Described(shapes.PlayerOutShape))
    def post(self, request: Request, public_id: UUID) -> Response:
        player = access.player_to_set_out(request.actor, public_id)
        actions.set_out(player=player, by_id=request.actor.user_id)
        return self._answer(request, player)

    @extend_schema(operation_id="players_out_lift", responses=Described(shapes.PlayerOutShape))
    def delete(self, request: Request, public_id: UUID) -> Response:
        player = access.player_to_lift(request.actor, public_id)
        actions.lift_out(player=player, by_id=request.actor.user_id)
        return self._answer(request, player)

    def _answer(self, request: Request, player: Any) -> Response:
        """Who reads it is noted, as of every read of players."""
        squad = queries.squad_of_player(str(player.public_id))
        if squad is not None:
            actions.note_reading(user_id=request.actor.user_id, squad_ids=[squad.pk], page=NamesOn.API)
        return answer(answers.out_until_lifted(queries.out_row(player)))


class PitchesView(APIView):
    """Pitches in use, each with its zones."""

    who_may = STAFF

    @extend_schema(operation_id="pitches_list", parameters=PAGING, responses=Listed(shapes.PitchShape))
    def get(self, request: Request) -> Response:
        return paged(self, request, queries.pitches(), answers.pitch)


class KitView(APIView):
    """The bag: kinds of kit, then bibs by colour."""

    who_may = STAFF

    @extend_schema(operation_id="kit_list", parameters=PAGING, responses=Listed(shapes.KitShape))
    def get(self, request: Request) -> Response:
        bag = [answers.kit(each) for each in queries.kit_rows()]
        bibs = [answers.bibs(each) for each in queries.bib_rows()]
        return paged(self, request, [*bag, *bibs], lambda each: each)


class ThemesView(APIView):
    """Themes under the moments of the game, in the club's order."""

    who_may = STAFF

    @extend_schema(operation_id="themes_list", parameters=PAGING, responses=Listed(shapes.ThemeShape))
    def get(self, request: Request) -> Response:
        return paged(self, request, queries.themes(), answers.theme)


UNDER = OpenApiParameter("under", OpenApiTypes.INT, description="Only figures for this age: 12 for U12.")


class GuidelinesView(APIView):
    """Published figures that hold today."""

    who_may = STAFF

    @extend_schema(
        operation_id="guidelines_list",
        parameters=[*PAGING, UNDER],
        responses=Listed(shapes.GuidelineShape),
    )
    def get(self, request: Request) -> Response:
        under = reading.text(request.GET.get("under"))
        asked = reading.whole(under, 0, OLDEST)
        if under and asked is None:
            raise ValidationError({"under": ["An age group by its number: 12 for U12."]})
        return paged(self, request, queries.guidelines(asked), answers.guideline)
