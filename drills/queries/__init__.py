"""All reads of the library. Pages, API and the planning of sessions call these; nothing here writes."""

from drills.queries.differences import Clash, Difference, clashes, differences
from drills.queries.facets import Facets, with_counts
from drills.queries.files import Outcome, file_of, outcomes
from drills.queries.filtered import filters_on
from drills.queries.fitting import FitAnswer, FitRequest, fit_answer, fit_request, fit_shown
from drills.queries.for_sessions import (
    Pick,
    StationDrill,
    current_revisions,
    documents,
    drill_ids_of,
    pickable,
    revision_for,
    station_drill,
)
from drills.queries.found import Found, document_for, plain_document, plain_of, typed
from drills.queries.keeping import Keeping, asked_too_often, drill_of_link, keeping
from drills.queries.linked import linked_data
from drills.queries.offered import (
    OfferedRung,
    count_of_other_ages,
    how_it_went,
    offered_rungs,
    rooms_for_players,
)
from drills.queries.outdated import count_outdated_drills
from drills.queries.page import DrillPage, drill_page, shared_page
from drills.queries.plan import TURNS, Plan, Turn, drawing, plan_of, reading_of, reason_words, stills
from drills.queries.revisions import (
    RevisionRow,
    Side,
    changes_between,
    compared,
    document_at,
    export_rows,
    revision_rows,
)
from drills.queries.search import hits, hits_and_facets, search, waiting_for_review
from drills.queries.shelf import DrillCard, Stock, card, first_grid, frozen_stock, stock_for, theme_choices
from drills.queries.wanted import DrillSearch, parse_search

__all__ = [
    "TURNS",
    "Clash",
    "Difference",
    "DrillCard",
    "DrillPage",
    "DrillSearch",
    "Facets",
    "FitAnswer",
    "FitRequest",
    "Found",
    "Keeping",
    "OfferedRung",
    "Outcome",
    "Pick",
    "Plan",
    "RevisionRow",
    "Side",
    "StationDrill",
    "Stock",
    "Turn",
    "asked_too_often",
    "card",
    "changes_between",
    "clashes",
    "compared",
    "count_of_other_ages",
    "count_outdated_drills",
    "current_revisions",
    "differences",
    "document_at",
    "document_for",
    "documents",
    "drawing",
    "drill_ids_of",
    "drill_of_link",
    "drill_page",
    "export_rows",
    "file_of",
    "filters_on",
    "first_grid",
    "fit_answer",
    "fit_request",
    "fit_shown",
    "frozen_stock",
    "hits",
    "hits_and_facets",
    "how_it_went",
    "keeping",
    "linked_data",
    "offered_rungs",
    "outcomes",
    "parse_search",
    "pickable",
    "plain_document",
    "plain_of",
    "plan_of",
    "reading_of",
    "reason_words",
    "revision_for",
    "revision_rows",
    "rooms_for_players",
    "search",
    "shared_page",
    "station_drill",
    "stills",
    "stock_for",
    "theme_choices",
    "typed",
    "waiting_for_review",
    "with_counts",
]
