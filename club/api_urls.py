"""Addresses of the API."""

from club import api
from club.access import route

urlpatterns = [
    route("age-groups/", api.AgeGroups.as_view(), "api-age-groups"),
    route("age-groups/<uuid:public_id>/", api.OneAgeGroup.as_view(), "api-age-group"),
    route("squads/", api.Squads.as_view(), "api-squads"),
    route("squads/<uuid:public_id>/", api.OneSquad.as_view(), "api-squad"),
    route("squads/<uuid:public_id>/players/", api.Players.as_view(), "api-players"),
    route("players/<uuid:public_id>/out/", api.OutUntilLifted.as_view(), "api-player-out"),
    route("pitches/", api.Pitches.as_view(), "api-pitches"),
    route("kit/", api.Kit.as_view(), "api-kit"),
    route("themes/", api.Themes.as_view(), "api-themes"),
    route("guidelines/", api.Guidelines.as_view(), "api-guidelines"),
]
