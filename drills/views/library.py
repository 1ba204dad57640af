"""The library's list, and one drill's page with its fit."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from club import queries as club
from club import reading
from club.access import STAFF, who_may
from drills import access, pages, queries
from drills.choices import ACTIVITIES, DrillState
from drills.views import plan

PAGE_SIZE = 12


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
    """The page of a drill; `noted` is a note after use that was refused, with what is wrong beside its fields."""
    try:
        shown = pages.drill_page(
            request.actor,
            public_id,
            key=reading.text(request.GET.get("variation")),
            grid_key=reading.text(request.GET.get("grid")),
            **plan.at(request),
        )
    except KeyError as error:
        raise Http404 from error
    may_share = access.may_share(request.actor, shown.drill)
    kept = queries.annotations(request.actor, shown.drill, may_share=may_share)
    fitted = _fitted(request, shown.base, shown.key)
    return render(request, "drills/drill.html", {"shown": shown, "kept": kept, **fitted, **more})


@who_may(STAFF)
def fit(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The answers of Fit alone, for the part of the page that is swapped."""
    found = queries.document_for(request.actor, public_id)
    key = reading.text(request.GET.get("variation"))
    if not found.has_rung(key):
        raise Http404
    context = {"public_id": public_id, "key": key, **_fitted(request, found.document, key)}
    return render(request, "drills/fit.html", context)


def _fitted(request: HttpRequest, document: Any, key: str) -> dict[str, object]:
    """Fit's answers for tonight's numbers, where any were typed."""
    if "players" not in request.GET:
        return {"typed": request.GET}
    asked, problems = pages.evening_asked(request.GET)
    answer = pages.fit_shown(document, key, asked) if asked else None
    return {"typed": request.GET, "answer": answer, "problems": {each.field: each.text for each in problems}}
