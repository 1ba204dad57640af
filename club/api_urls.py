"""Addresses of the API."""

from club.access import route
from club.api import views

urlpatterns = [
    route("age-groups/", views.AgeGroupsView.as_view(), "api-age-groups"),
    route("age-groups/<uuid:public_id>/", views.AgeGroupView.as_view(), "api-age-group"),
    route("squads/", views.SquadsView.as_view(), "api-squads"),
    route("squads/<uuid:public_id>/", views.SquadView.as_view(), "api-squad"),
    route("squads/<uuid:public_id>/players/", views.PlayersView.as_view(), "api-players"),
    route("players/<uuid:public_id>/out/", views.OutUntilLiftedView.as_view(), "api-player-out"),
    route("pitches/", views.PitchesView.as_view(), "api-pitches"),
    route("kit/", views.KitView.as_view(), "api-kit"),
    route("themes/", views.ThemesView.as_view(), "api-themes"),
    route("guidelines/", views.GuidelinesView.as_view(), "api-guidelines"),
]
