"""Addresses of the pages."""

from club.access import route
from sessions.proposals import urls as proposals
from sessions.views import along, at_once, new, parts, pitch, session, sheet, slots, stations, turns, week

app_name = "sessions"
urlpatterns = [
    *proposals.urlpatterns,
    route("", session.sessions, "list"),
    route("weeks/", week.week, "week"),
    route("new/", new.new, "new"),
    route("orders/", along.orders, "orders"),
    route("orders/<uuid:public_id>/drop/", along.drop_order, "order-drop"),
    route("slots/", slots.slots, "slots"),
    route("slots/new/", slots.new_slot, "new-slot"),
    route("slots/<uuid:public_id>/", slots.slot, "slot"),
    route("slots/<uuid:public_id>/end/", slots.end, "end-slot"),
    route("squads/<uuid:public_id>/", week.squad, "squad"),
    route("squads/<uuid:public_id>/add/", week.add_entry, "add-entry"),
    route("squads/<uuid:public_id>/<uuid:entry_id>/drop/", week.drop_entry, "drop-entry"),
    route("<uuid:public_id>/", session.session, "session"),
    route("<uuid:public_id>/edit/", session.edit, "edit"),
    route("<uuid:public_id>/move/", session.move, "move"),
    route("<uuid:public_id>/cancel/", session.cancel, "cancel"),
    route("<uuid:public_id>/again/", along.along, "along"),
    route("<uuid:public_id>/again/group/", along.copy, "along-copy"),
    route("<uuid:public_id>/again/weeks/", along.weeks, "along-weeks"),
    route("<uuid:public_id>/again/space/", along.space, "along-space"),
    route("<uuid:public_id>/again/order/", along.keep_order, "along-order"),
    route("<uuid:public_id>/sheet.pdf", sheet.sheet, "sheet"),
    route("<uuid:public_id>/parts/", parts.parts, "parts"),
    route("<uuid:public_id>/parts/<uuid:part_id>/stations/", at_once.stations, "stations"),
    route("<uuid:public_id>/stations/<uuid:station_id>/newer/", parts.newer, "newer"),
    route("<uuid:public_id>/stations/<uuid:station_id>/fit/", stations.fit, "fit"),
    route("<uuid:public_id>/stations/<uuid:station_id>/take/", stations.take, "take"),
    route("<uuid:public_id>/stations/<uuid:station_id>/drop/", stations.drop, "drop"),
    route("<uuid:public_id>/stations/<uuid:station_id>/turns/", turns.turns, "turns"),
    route("<uuid:public_id>/stations/<uuid:station_id>/turns.pdf", turns.turns_pdf, "turns-pdf"),
    route("<uuid:public_id>/stations/<uuid:station_id>/winner/", turns.winner, "winner"),
    route("<uuid:public_id>/pitch/", pitch.page, "pitch"),
    route("<uuid:public_id>/pitch/guests/", pitch.guests, "pitch-guests"),
    route("<uuid:public_id>/pitch/fit/", pitch.fit, "pitch-fit"),
    route("<uuid:public_id>/pitch/setup/", pitch.set_up, "pitch-setup"),
]
