"""All reads of training. Nothing here writes, nothing here is made for a page."""

from sessions.queries.calendar.links import calendar_of_secret
from sessions.queries.counted import Counted, counted
from sessions.queries.daylight import dark_from, in_the_dark
from sessions.queries.evening import evening_of, evening_typed, starting_evening, station_evening
from sessions.queries.guides import goes_by_load
from sessions.queries.ledger import LoadWeek, squad_factor
from sessions.queries.outline import outline_of, part_title, session_in_one
from sessions.queries.plan import PartView, SessionView, session_view
from sessions.queries.ready import part_order, part_orders
from sessions.queries.recorded.last_done import last_done
from sessions.queries.reuse import UsedAgain, used_again
from sessions.queries.rows import (
    expected_of,
    links_of,
    session_among_others,
    session_by_id,
    session_of_link,
    sessions_between,
    sessions_found,
    sessions_list,
    sources_to_copy,
    squad_out_of,
    staff_rows_of,
    zones_of,
)
from sessions.queries.slots.next_free import next_free_slots
from sessions.queries.slots.taken import taken_ahead
from sessions.queries.slots.weekly import (
    days_of,
    free_slots,
    slot_by_id,
    slots_from,
    slots_of,
    weekdays,
)
from sessions.queries.station import StationView, station_of
from sessions.queries.whole_week import WholeWeek

__all__ = [
    "Counted",
    "LoadWeek",
    "PartView",
    "SessionView",
    "StationView",
    "UsedAgain",
    "WholeWeek",
    "calendar_of_secret",
    "counted",
    "dark_from",
    "days_of",
    "evening_of",
    "evening_typed",
    "expected_of",
    "free_slots",
    "goes_by_load",
    "in_the_dark",
    "last_done",
    "links_of",
    "next_free_slots",
    "outline_of",
    "part_order",
    "part_orders",
    "part_title",
    "session_among_others",
    "session_by_id",
    "session_in_one",
    "session_of_link",
    "session_view",
    "sessions_between",
    "sessions_found",
    "sessions_list",
    "slot_by_id",
    "slots_from",
    "slots_of",
    "sources_to_copy",
    "squad_factor",
    "squad_out_of",
    "staff_rows_of",
    "starting_evening",
    "station_evening",
    "station_of",
    "taken_ahead",
    "used_again",
    "weekdays",
    "zones_of",
]
