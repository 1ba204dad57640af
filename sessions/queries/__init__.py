"""All reads of training. Pages and API call these; nothing here writes."""

from sessions.queries.editor import (
    DrillInEditor,
    Row,
    drills_in_editor,
    needs_of,
    of_other_ages,
    picks,
    tally,
    work_of,
)
from sessions.queries.ground import SessionGround, session_ground
from sessions.queries.guides import budget_of, header_rule
from sessions.queries.home import Home, home
from sessions.queries.ledger import LoadWeek, load_week, squad_factor
from sessions.queries.outline import outline_of, part_title, session_in_one
from sessions.queries.page import (
    SessionPage,
    fits_on_page,
    rungs_of,
    session_page,
    session_skyline,
    station_picture,
)
from sessions.queries.plan import PartView, SessionView, StationView, session_view, station_of
from sessions.queries.reuse import part_order, part_orders
from sessions.queries.rows import (
    free_slots,
    held_meanwhile,
    last_day_of,
    next_sessions,
    place_words,
    session_by_id,
    sessions_between,
    sessions_found,
    sessions_list,
    slot_by_id,
    slots_from,
    slots_of,
    sources_to_copy,
    staff_rows_of,
    weekdays,
    zones_of,
)
from sessions.queries.sheet import session_sheet
from sessions.queries.spaces import largest_space
from sessions.queries.squad_week import SquadWeek, squad_week_page
from sessions.queries.tiles import SessionTile, tiles
from sessions.queries.weeks import (
    Weeks,
    age_group_week,
    iso_week,
    monday_of,
    squad_week,
    weeks_page,
)

__all__ = [
    "DrillInEditor",
    "Home",
    "LoadWeek",
    "PartView",
    "Row",
    "SessionGround",
    "SessionPage",
    "SessionTile",
    "SessionView",
    "SquadWeek",
    "StationView",
    "Weeks",
    "age_group_week",
    "budget_of",
    "drills_in_editor",
    "fits_on_page",
    "free_slots",
    "header_rule",
    "held_meanwhile",
    "home",
    "iso_week",
    "largest_space",
    "last_day_of",
    "load_week",
    "monday_of",
    "needs_of",
    "next_sessions",
    "of_other_ages",
    "outline_of",
    "part_order",
    "part_orders",
    "part_title",
    "picks",
    "place_words",
    "rungs_of",
    "session_by_id",
    "session_ground",
    "session_in_one",
    "session_page",
    "session_sheet",
    "session_skyline",
    "session_view",
    "sessions_between",
    "sessions_found",
    "sessions_list",
    "slot_by_id",
    "slots_from",
    "slots_of",
    "sources_to_copy",
    "squad_factor",
    "squad_week",
    "squad_week_page",
    "staff_rows_of",
    "station_of",
    "station_picture",
    "tally",
    "tiles",
    "weekdays",
    "weeks_page",
    "work_of",
    "zones_of",
]
