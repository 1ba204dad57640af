"""The page at the pitch: one document that holds the whole session, and what has happened so far."""

from sessions.pages.pitch.along import TAKEN_ALONG, taken_along
from sessions.pages.pitch.data import page_data
from sessions.pages.pitch.fitting import fit_shown, setup_shown, station_at
from sessions.pages.pitch.helping import (
    HelpersNumber,
    about_for_helpers,
    helpers_account,
    helpers_data,
    helpers_number,
)
from sessions.pages.pitch.offline import about, plan_tag, shell, worker_script
from sessions.pages.pitch.page import pitch_page

__all__ = [
    "TAKEN_ALONG",
    "HelpersNumber",
    "about",
    "about_for_helpers",
    "fit_shown",
    "helpers_account",
    "helpers_data",
    "helpers_number",
    "page_data",
    "pitch_page",
    "plan_tag",
    "setup_shown",
    "shell",
    "station_at",
    "taken_along",
    "worker_script",
]
