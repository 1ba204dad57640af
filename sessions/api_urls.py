"""Addresses of the API."""

from club.access import route
from sessions.api import (
    attendance,
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
    route("sessions/", sessions.Sessions.as_view(), "api-sessions"),
    route("sessions/<uuid:public_id>/", sessions.Session.as_view(), "api-session"),
    route("sessions/<uuid:public_id>/cancel/", sessions.Cancelled.as_view(), "api-session-cancel"),
    route("sessions/<uuid:public_id>/together/", together.Together.as_view(), "api-session-together"),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/setup/",
        sessions.StationSetUp.as_view(),
        "api-station-setup",
    ),
    route(
        "sessions/<uuid:public_id>/parts/<uuid:part_id>/move/",
        sessions.MovedPart.as_view(),
        "api-session-part-move",
    ),
    route("sessions/<uuid:public_id>/setups/", setups.AllSetUp.as_view(), "api-session-setups"),
    route("sessions/<uuid:public_id>/sheet.pdf", sheet.SessionSheet.as_view(), "api-session-sheet"),
    route("sessions/<uuid:public_id>/ground/", ground.SessionGround.as_view(), "api-session-ground"),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/rotation/",
        turns.StationTurns.as_view(),
        "api-station-turns",
    ),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/turns.pdf",
        sheet.StationTurnsSheet.as_view(),
        "api-station-turns-sheet",
    ),
    route(
        "sessions/<uuid:public_id>/stations/<uuid:station_id>/winners/",
        turns.StationWinners.as_view(),
        "api-station-winners",
    ),
    route("sessions/<uuid:public_id>/copies/", reuse.Copies.as_view(), "api-session-copies"),
    route(
        "sessions/<uuid:public_id>/copies/changes/", reuse.CopyChanges.as_view(), "api-session-copy-changes"
    ),
    route("sessions/<uuid:public_id>/series/", reuse.Series.as_view(), "api-session-series"),
    route("sessions/<uuid:public_id>/plan-b/", reuse.PlanB.as_view(), "api-session-plan-b"),
    route("sessions/<uuid:public_id>/order/", reuse.KeptOrder.as_view(), "api-session-order"),
    route("part-orders/", reuse.PartOrders.as_view(), "api-part-orders"),
    route("attendance/", attendance.Attendance.as_view(), "api-attendance"),
    route("slots/", slots.Slots.as_view(), "api-slots"),
    route("slots/<uuid:public_id>/", slots.Slot.as_view(), "api-slot"),
    route(
        "age-groups/<uuid:public_id>/weeks/<str:iso_week>/",
        weeks.AgeGroupWeek.as_view(),
        "api-age-group-week",
    ),
    route("rotations/", rotations.Rotations.as_view(), "api-rotations"),
    route("rotations/next-game/", rotations.NextGame.as_view(), "api-next-game"),
    route("sessions/<uuid:public_id>/events/", events.SessionEvents.as_view(), "api-session-events"),
]
