"""What pages, files and the API's answers show of the library, put together from reads."""

from drills.pages.beside import plan_beside
from drills.pages.differences import changes_between, clashes, compared, differences, revision_rows
from drills.pages.drill import drill_page, shared_page
from drills.pages.files import export_rows, file_of, outcomes
from drills.pages.fitting import assumed, evening_asked, fit_shown
from drills.pages.library import card, filters_on, first_grid, theme_choices
from drills.pages.linked import linked_data
from drills.pages.plan import TURNS, Turn, drawing, plan_of, reading_of, reason_words, stills
from drills.pages.sizes import Area, SizeShown, area_of_answer, size_shown
from drills.pages.tonight import GridLine, ToldDrill, grid_words, grids_told, told
from drills.pages.videos import as_shown, film_of, video_shown

__all__ = [
    "TURNS",
    "Area",
    "GridLine",
    "SizeShown",
    "ToldDrill",
    "Turn",
    "area_of_answer",
    "as_shown",
    "assumed",
    "card",
    "changes_between",
    "clashes",
    "compared",
    "differences",
    "drawing",
    "drill_page",
    "evening_asked",
    "export_rows",
    "file_of",
    "film_of",
    "filters_on",
    "first_grid",
    "fit_shown",
    "grid_words",
    "grids_told",
    "linked_data",
    "outcomes",
    "plan_beside",
    "plan_of",
    "reading_of",
    "reason_words",
    "revision_rows",
    "shared_page",
    "size_shown",
    "stills",
    "theme_choices",
    "told",
    "video_shown",
]
