"""Addresses of the API."""

from club.access import route
from sessions.api import (
    attendance,
    coverage,
    events,
    ground,
    reuse,
    rotations,
    sessions,
    setups,
    sheet,
    slots,
    together,
    turns,
    weeks,
)
from sessions.proposals import urls as proposals

urlpatterns = [
    *proposals.api_urlpatterns,
    route("sessions/", sessions.SessionsView.as_view(), "api-sessions"),
    route("sessions/<uuid:public_id>/", sessions.OneSessionView.as_view(), "api-session"),
    route("sessions/<uuid:public_id>/cancel/", sessions.SessionCancelledView.as_view(), "api-session-cancel"),
    route("sessions/<uuid:public_id>/together/", together.TogetherView.as_view(), "api-session-together"),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/setup/",
        sessions.StationSetUpView.as_view(),
        "api-station-setup",
    ),
    route(
        "sessions/<uuid:public_id>/parts/<uuid:part_id>/move/",
        sessions.MovedPartView.as_view(),
        "api-session-part-move",
    ),
    route("sessions/<uuid:public_id>/setups/", setups.AllSetUpView.as_view(), "api-session-setups"),
    route("sessions/<uuid:public_id>/sheet.pdf", sheet.SessionSheetView.as_view(), "api-session-sheet"),
    route("sessions/<uuid:public_id>/ground/", ground.SessionGroundView.as_view(), "api-session-ground"),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/rotation/",
        turns.StationTurnsView.as_view(),
        "api-station-turns",
    ),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/turns.pdf",
        sheet.StationTurnsSheetView.as_view(),
        "api-station-turns-sheet",
    ),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/winners/",
        turns.StationWinnersView.as_view(),
        "api-station-winners",
    ),
    route("sessions/<uuid:public_id>/copies/", reuse.CopiesView.as_view(), "api-session-copies"),
    route(
        "sessions/<uuid:public_id>/copies/changes/",
        reuse.CopyChangesView.as_view(),
        "api-session-copy-changes",
    ),
    route("sessions/<uuid:public_id>/series/", reuse.SeriesView.as_view(), "api-session-series"),
    route("sessions/<uuid:public_id>/plan-b/", reuse.PlanBView.as_view(), "api-session-plan-b"),
    route("sessions/<uuid:public_id>/order/", reuse.SessionTemplateView.as_view(), "api-session-order"),
    route("part-orders/", reuse.PartOrdersView.as_view(), "api-part-orders"),
    route("sessions/<uuid:public_id>/ready/", reuse.ReadySessionView.as_view(), "api-session-ready"),
    route("attendance/", attendance.AttendanceView.as_view(), "api-attendance"),
    route("coverage/", coverage.CoverageView.as_view(), "api-coverage"),
    route("slots/", slots.SlotsView.as_view(), "api-slots"),
    route("slots/<uuid:public_id>/", slots.SlotView.as_view(), "api-slot"),
    route(
        "age-groups/<uuid:public_id>/weeks/<str:iso_week>/",
        weeks.AgeGroupWeekView.as_view(),
        "api-age-group-week",
    ),
    route("rotations/", rotations.RotationsView.as_view(), "api-rotations"),
    route("rotations/next-game/", rotations.NextGameView.as_view(), "api-next-game"),
    route("sessions/<uuid:public_id>/events/", events.SessionEventsView.as_view(), "api-session-events"),
]
