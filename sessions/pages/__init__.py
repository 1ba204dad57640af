"""What pages, sheets and the API's answers show of training, put together from reads."""

from sessions.pages.attendance import (
    MOST_DAYS,
    NOT_MARKED,
    attendance_page,
    player_attendance,
    table_of,
    team_attendance,
    teams_attending,
    weeks_back,
    word_of,
)
from sessions.pages.block.page import block_page
from sessions.pages.block.taught import taught_page
from sessions.pages.calendar.days import days_page, taken_words, taking_page
from sessions.pages.calendar.feed import calendar_shown
from sessions.pages.calendar.links import calendar_page
from sessions.pages.editor import (
    EditorRow,
    drills_in_editor,
    needs_of,
    of_other_ages,
    picks,
    saved_beside,
    tally,
    work_of,
)
from sessions.pages.everything import all_set_up
from sessions.pages.ground import session_ground
from sessions.pages.home import home, home_lists
from sessions.pages.mending.cover import coach_away_page, cover_steps, cover_told
from sessions.pages.mending.ground import pitch_lost_page, pitch_steps, pitch_told
from sessions.pages.planning_ahead import next_free, ready_lines, template_lines
from sessions.pages.session import fits_on_page, session_page
from sessions.pages.shared import shared_session, shared_title
from sessions.pages.sheet.session import session_sheet
from sessions.pages.squad_week import squad_week_page
from sessions.pages.stations.plans import station_plan
from sessions.pages.tiles import tiles
from sessions.pages.together import together_page
from sessions.pages.turns import TurnsPage, turns_page, turns_sheet
from sessions.pages.use import use_page
from sessions.pages.weeks import age_group_week, iso_week, monday_of, weeks_page

__all__ = [
    "MOST_DAYS",
    "NOT_MARKED",
    "EditorRow",
    "TurnsPage",
    "age_group_week",
    "all_set_up",
    "attendance_page",
    "block_page",
    "calendar_page",
    "calendar_shown",
    "coach_away_page",
    "cover_steps",
    "cover_told",
    "days_page",
    "drills_in_editor",
    "fits_on_page",
    "home",
    "home_lists",
    "iso_week",
    "monday_of",
    "needs_of",
    "next_free",
    "of_other_ages",
    "picks",
    "pitch_lost_page",
    "pitch_steps",
    "pitch_told",
    "player_attendance",
    "ready_lines",
    "saved_beside",
    "session_ground",
    "session_page",
    "session_sheet",
    "shared_session",
    "shared_title",
    "squad_week_page",
    "station_plan",
    "table_of",
    "taken_words",
    "taking_page",
    "tally",
    "taught_page",
    "team_attendance",
    "teams_attending",
    "template_lines",
    "tiles",
    "together_page",
    "turns_page",
    "turns_sheet",
    "use_page",
    "weeks_back",
    "weeks_page",
    "word_of",
    "work_of",
]
