"""The club over the API: what programs need to read, through the same queries as the pages."""

from typing import Any
from uuid import UUID

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_serializer
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.generics import ListAPIView
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import access, actions, queries, reading
from club.access import COACHES, HELPERS, STAFF, found
from club.ages import OLDEST
from club.api_tools import etag
from club.choices import EDGES, AtEdge, FixedGoalKind, NamesOn


class AgeGroupSerializer(serializers.Serializer):
    """An age group of a season, with its budget. Lengths in metres, load in AU.

    `under` 12 with `years` 2 holds U11 and U12; null is adults, from age `over` (18 where null). `youngest_years` is the age
    that is certain on any day of the season.
    """

    id = serializers.UUIDField(source="public_id")
    label = serializers.CharField()  # type: ignore[assignment]
    season = serializers.CharField(source="season.name")
    under = serializers.IntegerField(allow_null=True)
    years = serializers.IntegerField()
    over = serializers.IntegerField(allow_null=True)
    under_low = serializers.IntegerField(source="ages.under_low")
    under_high = serializers.IntegerField(source="ages.under_high", allow_null=True)
    youngest_years = serializers.IntegerField(source="ages.youngest_years")
    match_format = serializers.CharField()
    match_length_m = serializers.FloatField(allow_null=True)
    match_width_m = serializers.FloatField(allow_null=True)
    ball_size = serializers.IntegerField(allow_null=True)
    session_minutes = serializers.IntegerField()
    session_load_au = serializers.IntegerField(allow_null=True)
    week_load_au = serializers.IntegerField(allow_null=True)
    week_minutes = serializers.IntegerField(allow_null=True)
    week_days = serializers.IntegerField(allow_null=True)
    hardest_part = serializers.FloatField()
    version = serializers.IntegerField()


class SquadSerializer(serializers.Serializer):
    """A squad of the running season. Its players are counted, not named."""

    id = serializers.UUIDField(source="public_id")
    name = serializers.CharField()
    age_group = serializers.CharField(source="age_group_label")
    player_count = serializers.IntegerField()
    version = serializers.IntegerField()


class PlayerSerializer(serializers.Serializer):
    """All that is kept of a player."""

    id = serializers.UUIDField(source="public_id")
    display_name = serializers.CharField()
    shirt = serializers.IntegerField(allow_null=True)
    is_keeper = serializers.BooleanField()
    out_until_lifted = serializers.BooleanField(
        source="is_out", help_text="Takes part nowhere until a coach of theirs lifts it. Why is not kept."
    )
    version = serializers.IntegerField()


@extend_schema_serializer(component_name="FixedGoal")
class FixedGoalSerializer(serializers.Serializer):
    """A goal that can't be moved. `along` is its middle as a share of its edge, from the left or from the near side."""

    edge = serializers.ChoiceField(choices=EDGES)
    along = serializers.FloatField(min_value=0, max_value=1)
    size = serializers.ChoiceField(choices=FixedGoalKind.choices)


@extend_schema_serializer(component_name="PitchZone")  # drawings have zones of their own
class ZoneSerializer(serializers.Serializer):
    """A part of a pitch that can be booked. Left and right are its ends, bottom (near) and top (far) its sides; zones of a
    pitch lie side by side in their order, the first one near.
    """

    id = serializers.UUIDField(source="public_id")
    name = serializers.CharField()
    length_m = serializers.FloatField()
    width_m = serializers.FloatField()
    edge_left = serializers.ChoiceField(choices=AtEdge.choices)
    edge_right = serializers.ChoiceField(choices=AtEdge.choices)
    edge_bottom = serializers.ChoiceField(choices=AtEdge.choices)
    edge_top = serializers.ChoiceField(choices=AtEdge.choices)
    fixed_goals = FixedGoalSerializer(many=True)
    version = serializers.IntegerField()


class PitchSerializer(serializers.Serializer):
    """A pitch with its zones; the whole of it is all of them."""

    id = serializers.UUIDField(source="public_id")
    name = serializers.CharField()
    surface = serializers.CharField()
    has_lights = serializers.BooleanField()
    address = serializers.CharField()
    ambulance_gate = serializers.CharField()
    defibrillator = serializers.CharField()
    zones = ZoneSerializer(many=True, source="zones.all")
    version = serializers.IntegerField()


class KitSerializer(serializers.Serializer):
    """How many the club has; bibs by colour."""

    kind = serializers.CharField()
    colour = serializers.CharField(allow_blank=True)
    count = serializers.IntegerField()


class ThemeSerializer(serializers.Serializer):
    """What the club wants taught; drills name its key."""

    key = serializers.CharField()
    title = serializers.CharField()
    moment = serializers.CharField()


class GuidelineSerializer(serializers.Serializer):
    """A published figure with its source: advice that defers to local rules."""

    id = serializers.UUIDField(source="public_id")
    rule = serializers.CharField()
    under_low = serializers.IntegerField()
    under_high = serializers.IntegerField()
    a_side = serializers.IntegerField(allow_null=True)  # sizes of pitches: for which format
    jurisdiction = serializers.CharField()
    value = serializers.FloatField()
    source = serializers.CharField()  # type: ignore[assignment]
    note = serializers.CharField()
    valid_from = serializers.DateField(source="valid.lower")
    valid_before = serializers.DateField(source="valid.upper", allow_null=True)
    changed_by_club = serializers.BooleanField(source="own")
    version = serializers.IntegerField()


class AgeGroups(ListAPIView):
    """Age groups of the running season, youngest first."""

    who_may = STAFF
    serializer_class = AgeGroupSerializer

    def get_queryset(self) -> Any:
        return queries.age_groups()


class OneAgeGroup(APIView):
    """One age group, of any season."""

    who_may = STAFF

    @extend_schema(responses=AgeGroupSerializer)
    def get(self, request: Request, public_id: UUID) -> Response:
        row = found(queries.age_group(public_id))
        return Response(AgeGroupSerializer(row).data, headers={"ETag": etag(row.version)})


class Squads(ListAPIView):
    """Squads of the running season, with the number of their players."""

    who_may = STAFF
    serializer_class = SquadSerializer

    def get_queryset(self) -> Any:
        return queries.squads()


class OneSquad(APIView):
    """One squad of the running season."""

    who_may = STAFF

    @extend_schema(responses=SquadSerializer)
    def get(self, request: Request, public_id: UUID) -> Response:
        row = found(queries.squad(public_id))
        return Response(SquadSerializer(row).data, headers={"ETag": etag(row.version)})


class Players(ListAPIView):
    """Players of a squad, for the staff of its age group and the director. Who reads them is noted."""

    who_may = HELPERS
    serializer_class = PlayerSerializer

    def get_queryset(self) -> Any:
        request: Any = self.request
        squad = access.squad_with_names(request.actor, self.kwargs["public_id"])
        actions.note_reading(user_id=request.actor.user_id, squad_ids=[squad.pk], page=NamesOn.API)
        return queries.players_of([squad.pk])


@extend_schema_serializer(component_name="PlayerOut")
class OutSerializer(serializers.Serializer):
    """Whether a player is out until a coach of theirs lifts it, since when, and who set it. Why is asked nowhere."""

    out_until_lifted = serializers.BooleanField()
    since = serializers.DateTimeField(allow_null=True)
    set_by = serializers.CharField(allow_null=True)


class OutUntilLifted(APIView):
    """After a knock on the head. The staff of a player's teams set it, their coaches and the director lift it."""

    who_may = {"GET": HELPERS, "POST": HELPERS, "DELETE": COACHES}

    @extend_schema(operation_id="players_out_retrieve", responses=OutSerializer)
    def get(self, request: Request, public_id: UUID) -> Response:
        return self._answer(request, access.player_to_set_out(request.actor, public_id))

    @extend_schema(operation_id="players_out_set", request=None, responses=OutSerializer)
    def post(self, request: Request, public_id: UUID) -> Response:
        player = access.player_to_set_out(request.actor, public_id)
        actions.set_out(player=player, by_id=request.actor.user_id)
        return self._answer(request, player)

    @extend_schema(operation_id="players_out_lift", responses=OutSerializer)
    def delete(self, request: Request, public_id: UUID) -> Response:
        player = access.player_to_lift(request.actor, public_id)
        actions.lift_out(player=player, by_id=request.actor.user_id)
        return self._answer(request, player)

    def _answer(self, request: Request, player: Any) -> Response:
        """Who reads it is noted, as of every read of players."""
        squad = queries.squad_of_player(str(player.public_id))
        if squad is not None:
            actions.note_reading(user_id=request.actor.user_id, squad_ids=[squad.pk], page=NamesOn.API)
        row = queries.out_row(player)
        shown = {
            "out_until_lifted": row is not None,
            "since": row.since if row else None,
            "set_by": row.set_by.name if row and row.set_by else None,
        }
        return Response(OutSerializer(shown).data)


class Pitches(ListAPIView):
    """Pitches in use, each with its zones."""

    who_may = STAFF
    serializer_class = PitchSerializer

    def get_queryset(self) -> Any:
        return queries.pitches()


class Kit(ListAPIView):
    """The bag: kinds of kit, then bibs by colour."""

    who_may = STAFF
    serializer_class = KitSerializer

    def get_queryset(self) -> Any:
        kit = [{"kind": row.kind, "colour": "", "count": row.count} for row in queries.kit_rows()]
        bibs = [{"kind": "bibs", "colour": row.colour, "count": row.count} for row in queries.bib_rows()]
        return kit + bibs


class Themes(ListAPIView):
    """Themes under the moments of the game, in the club's order."""

    who_may = STAFF
    serializer_class = ThemeSerializer

    def get_queryset(self) -> Any:
        return queries.themes()


@extend_schema(
    parameters=[
        OpenApiParameter("under", OpenApiTypes.INT, description="Only figures for this age: 12 for U12.")
    ]
)
class Guidelines(ListAPIView):
    """Published figures that hold today."""

    who_may = STAFF
    serializer_class = GuidelineSerializer

    def get_queryset(self) -> Any:
        under = reading.text(self.request.GET.get("under"))
        asked = reading.whole(under, 0, OLDEST)
        if under and asked is None:
            raise ValidationError({"under": ["An age group by its number: 12 for U12."]})
        return queries.guidelines(asked)
