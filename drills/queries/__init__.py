"""All reads of the library: rows, documents, what is searched for. Nothing here writes, nothing here is made for a page."""

from drills.queries.annotations import annotations, drill_of_link
from drills.queries.facets import with_counts
from drills.queries.for_sessions import (
    Pick,
    StationDrill,
    current_revisions,
    documents,
    documents_of_revisions,
    drill_ids_of,
    first_drill,
    has_drills,
    has_revision,
    named,
    pickable,
    revision_for,
    station_drill,
    station_drills,
)
from drills.queries.found import FoundDrill, document_at, document_for, plain_document, plain_of, typed
from drills.queries.match_areas import our_match_areas, players_of_group
from drills.queries.offered import (
    OfferedRung,
    count_of_other_ages,
    how_it_went,
    offered_rungs,
    rooms_for_players,
    rungs_of,
)
from drills.queries.outdated import bare_drills, count_outdated_drills, first_bare_drill
from drills.queries.runs import RunCounts, times_run, with_times_run
from drills.queries.search import (
    Reviews,
    hits,
    hits_and_facets,
    review_rows,
    reviews_in,
    search,
    waiting_for_review,
)
from drills.queries.sketches import (
    Sketches,
    SketchRow,
    picture_of,
    sketch_rows,
    sketches_allowed,
    sketches_beside,
    sketches_in,
)
from drills.queries.stock import Stock, club_stock, counted, stock_for
from drills.queries.videos import video_file
from drills.queries.wanted import DrillSearch, parse_search

__all__ = [
    "DrillSearch",
    "FoundDrill",
    "OfferedRung",
    "Pick",
    "Reviews",
    "RunCounts",
    "SketchRow",
    "Sketches",
    "StationDrill",
    "Stock",
    "annotations",
    "bare_drills",
    "club_stock",
    "count_of_other_ages",
    "count_outdated_drills",
    "counted",
    "current_revisions",
    "document_at",
    "document_for",
    "documents",
    "documents_of_revisions",
    "drill_ids_of",
    "drill_of_link",
    "first_bare_drill",
    "first_drill",
    "has_drills",
    "has_revision",
    "hits",
    "hits_and_facets",
    "how_it_went",
    "named",
    "offered_rungs",
    "our_match_areas",
    "parse_search",
    "pickable",
    "picture_of",
    "plain_document",
    "plain_of",
    "players_of_group",
    "review_rows",
    "reviews_in",
    "revision_for",
    "rooms_for_players",
    "rungs_of",
    "search",
    "sketch_rows",
    "sketches_allowed",
    "sketches_beside",
    "sketches_in",
    "station_drill",
    "station_drills",
    "stock_for",
    "times_run",
    "typed",
    "video_file",
    "waiting_for_review",
    "with_counts",
    "with_times_run",
]
