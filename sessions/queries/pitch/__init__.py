"""The page at the pitch: one document that holds the whole session, and what has happened so far."""

from sessions.queries.pitch.data import page_data
from sessions.queries.pitch.fitting import fit_shown, setup_shown, station_at
from sessions.queries.pitch.happened import events_since, happened, next_seq
from sessions.queries.pitch.page import PitchPage, PitchPart, pitch_page
from sessions.queries.pitch.people import guests_for, players_for

__all__ = [
    "PitchPage",
    "PitchPart",
    "events_since",
    "fit_shown",
    "guests_for",
    "happened",
    "next_seq",
    "page_data",
    "pitch_page",
    "players_for",
    "setup_shown",
    "station_at",
]
