"""Addresses of the API."""

from club.access import route
from club.api import views

urlpatterns = [
    route("age-groups/", views.AgeGroups.as_view(), "api-age-groups"),
    route("age-groups/<uuid:public_id>/", views.OneAgeGroup.as_view(), "api-age-group"),
    route("squads/", views.Squads.as_view(), "api-squads"),
    route("squads/<uuid:public_id>/", views.OneSquad.as_view(), "api-squad"),
    route("squads/<uuid:public_id>/players/", views.Players.as_view(), "api-players"),
    route("players/<uuid:public_id>/out/", views.OutUntilLifted.as_view(), "api-player-out"),
    route("pitches/", views.Pitches.as_view(), "api-pitches"),
    route("kit/", views.Kit.as_view(), "api-kit"),
    route("themes/", views.Themes.as_view(), "api-themes"),
    route("guidelines/", views.Guidelines.as_view(), "api-guidelines"),
]
