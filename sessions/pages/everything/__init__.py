"""All parts set up at once: what each is set up for and becomes, on the page, at the pitch and over the API."""

from sessions.pages.everything.lines import AllSetUp, all_set_up
from sessions.pages.everything.pitch import everything_shown, planned_rungs

__all__ = ["AllSetUp", "all_set_up", "everything_shown", "planned_rungs"]
