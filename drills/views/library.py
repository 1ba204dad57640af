"""The library's list, and one drill's page with its fit."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from club import queries as club
from club import reading
from club.access import STAFF, who_may
from club.limits import PAGE_SIZE
from drills import access, pages, queries
from drills.choices import ACTIVITIES, DrillState
from drills.views import plan

# Filters that stand behind a fold, open where one of them is set.
BEHIND = (
    "keepers",
    "minutes",
    "effort_max",
    "kit",
    "age_group",
    "theme",
    "activity",
    "state",
    "mine",
    "favourite",
    "retired",
)


@who_may(STAFF)
def library(request: HttpRequest) -> HttpResponse:
    """What the club has, narrowed by what tonight is like."""
    age_groups = club.age_groups()
    wanted, problems = queries.parse_search(request.GET, age_groups)
    drills, facets = queries.hits_and_facets(request.actor, wanted)
    page = Paginator(drills, PAGE_SIZE).get_page(reading.whole(request.GET.get("page")))
    themes = facets.beside["themes"]
    stock = queries.stock_for(wanted, facets.beside.get("stock"))
    context = {
        "page": page,
        "more": facets.more,
        "none_as_typed": facets.as_typed == 0,
        "alike_from": facets.as_typed - (page.start_index() - 1) if facets.as_typed else None,
        "cards": [pages.card(drill, wanted, dict(themes), stock) for drill in page.object_list],
        "wanted": wanted,
        "filters_on": pages.filters_on(wanted, request.GET, dict(themes)),
        "typed": request.GET,
        "problems": {each.field: each.text for each in problems},
        "more_open": any(reading.text(request.GET.get(name)) for name in BEHIND),
        "age_groups": age_groups,
        "themes": queries.with_counts(themes, facets.themes, facets.capped),
        "activities": queries.with_counts(ACTIVITIES, facets.activities, facets.capped),
        "states": queries.with_counts(DrillState.choices, facets.states, facets.capped),
        "may_write": access.may_write(request.actor),
    }
    return render(request, "drills/library/list.html", context)


@who_may(STAFF)
def drill(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """A drill for somebody who has never seen it; `variation`, `grid`, `step` and `turn` choose what the plan shows."""
    return page(request, public_id)


def page(request: HttpRequest, public_id: UUID, **more: Any) -> HttpResponse:
    """The page of a drill; `noted` is a note after use, `sketched` a photo that was refused: with what is wrong beside the fields."""
    evening, problems = pages.evening_asked(request.GET) if "players" in request.GET else (None, [])
    try:
        shown = pages.drill_page(
            request.actor,
            public_id,
            key=reading.text(request.GET.get("variation")),
            grid_key=reading.text(request.GET.get("grid")),
            evening=evening,
            place=plan.place(request),
            **plan.at(request),
        )
    except KeyError as error:
        raise Http404 from error
    may_share = access.may_share(request.actor, shown.drill)
    context = {
        "shown": shown,
        "kept": queries.annotations(request.actor, shown.drill, may_share=may_share),
        "sketches": queries.sketches_beside(request.actor, shown.drill),
        "may_sketch": access.may_add_sketch(request.actor, shown.drill) and queries.sketches_allowed(),
        "typed": request.GET,
        "problems": {each.field: each.text for each in problems},
    }
    return render(request, "drills/drill.html", {**context, **more})
