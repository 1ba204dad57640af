"""The door of the room: the addresses of its pages and of its part of the API. Nothing else is asked from outside."""

from club.access import route
from sessions.proposals import views
from sessions.proposals.api import views as api

urlpatterns = [
    route("weights/", views.weights, "weights"),
    route("weights/change/", views.weigh, "weigh"),
    route("<uuid:public_id>/propose/", views.wish, "propose"),
    route("<uuid:public_id>/propose/<uuid:proposal_id>/", views.proposal, "proposal"),
    route("<uuid:public_id>/propose/<uuid:proposal_id>/again/", views.again, "propose-again"),
    route("<uuid:public_id>/propose/<uuid:proposal_id>/stop/", views.stop, "stop-proposal"),
    route("<uuid:public_id>/propose/<uuid:proposal_id>/take/", views.take, "take-proposal"),
]
api_urlpatterns = [
    route("sessions/assemble/", api.AssembleView.as_view(), "api-assemble"),
    route("proposals/<uuid:public_id>/", api.ProposalView.as_view(), "api-proposal"),
    route("proposals/<uuid:public_id>/cancel/", api.ProposalCancelledView.as_view(), "api-proposal-cancel"),
    route("proposals/<uuid:public_id>/take/", api.ProposalTakenView.as_view(), "api-proposal-take"),
    route("proposal-weights/", api.ProposalWeightsView.as_view(), "api-proposal-weights"),
]
