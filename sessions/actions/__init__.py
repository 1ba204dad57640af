"""All writes of training: verb first, keyword-only, each one transaction."""

from sessions.actions.accept_setup import accept_setup, drop_setup
from sessions.actions.beginning import begin_session, plan_whole, save_whole
from sessions.actions.booking import (
    DayAndTimes,
    ZonesAndStaff,
    cancel_session,
    change_session,
    move_session,
    plan_session,
)
from sessions.actions.calendar.links import end_calendar, forget_calendar_links, note_reading, open_calendar
from sessions.actions.calendar.taking import (
    call_off_match,
    close_days,
    open_days_again,
    take_closed,
    take_matches,
)
from sessions.actions.covering import hand_over, put_on
from sessions.actions.delivery import EventOutcome, append_events
from sessions.actions.helping import LetIn, another_number, append_as_helper, let_in
from sessions.actions.ledger import add_ledger_entry, drop_ledger_entry
from sessions.actions.lighter import lighten
from sessions.actions.mending import MendStep, cover_step, mend_sessions, pitch_step
from sessions.actions.parts import (
    PartInput,
    StationInput,
    move_part,
    parts_as_input,
    save_parts,
    take_newer,
    take_parts_of,
)
from sessions.actions.projections import rebuild, rebuild_all
from sessions.actions.ready import ForWhom, add_ready, drop_order, keep_order, keep_template, use_ready
from sessions.actions.reuse import (
    MOST_USED_AGAIN,
    MOST_WEEKS,
    copy_refitted,
    plan_series,
    refit_session,
)
from sessions.actions.set_up_all import set_up_all
from sessions.actions.setups import fitted, put_setup
from sessions.actions.sharing import SHARED_FOR_DAYS, end_session_link, forget_session_links, share_session
from sessions.actions.slots import change_slot, end_slot, make_slot
from sessions.actions.together import put_together, take_apart
from sessions.actions.turns import forget_pairs, note_winner, rotate_station, station_in_part
from sessions.actions.use import Wanted, add_drill, run_now

__all__ = [
    "MOST_USED_AGAIN",
    "MOST_WEEKS",
    "SHARED_FOR_DAYS",
    "DayAndTimes",
    "EventOutcome",
    "ForWhom",
    "LetIn",
    "MendStep",
    "PartInput",
    "StationInput",
    "Wanted",
    "ZonesAndStaff",
    "accept_setup",
    "add_drill",
    "add_ledger_entry",
    "add_ready",
    "another_number",
    "append_as_helper",
    "append_events",
    "begin_session",
    "call_off_match",
    "cancel_session",
    "change_session",
    "change_slot",
    "close_days",
    "copy_refitted",
    "cover_step",
    "drop_ledger_entry",
    "drop_order",
    "drop_setup",
    "end_calendar",
    "end_session_link",
    "end_slot",
    "fitted",
    "forget_calendar_links",
    "forget_pairs",
    "forget_session_links",
    "hand_over",
    "keep_order",
    "keep_template",
    "let_in",
    "lighten",
    "make_slot",
    "mend_sessions",
    "move_part",
    "move_session",
    "note_reading",
    "note_winner",
    "open_calendar",
    "open_days_again",
    "parts_as_input",
    "pitch_step",
    "plan_series",
    "plan_session",
    "plan_whole",
    "put_on",
    "put_setup",
    "put_together",
    "rebuild",
    "rebuild_all",
    "refit_session",
    "rotate_station",
    "run_now",
    "save_parts",
    "save_whole",
    "set_up_all",
    "share_session",
    "station_in_part",
    "take_apart",
    "take_closed",
    "take_matches",
    "take_newer",
    "take_parts_of",
    "use_ready",
]
