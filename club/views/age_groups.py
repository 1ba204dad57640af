"""Age groups of a season, with the published figures beside the club's own."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import actions, queries
from club.access import LEADERS, STAFF, found, who_may
from club.forms import AgeGroupForm
from club.views.pages import form_page, said, typed


@who_may(STAFF)
def age_groups(request: HttpRequest) -> HttpResponse:
    """The age groups of the season that runs."""
    return _of_season(request, queries.current_season())


@who_may(STAFF)
def season(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The age groups of any season, so that the next one can be prepared."""
    return _of_season(request, found(queries.season(public_id)))


def _of_season(request: HttpRequest, chosen: Any) -> HttpResponse:
    rows = queries.age_groups(chosen) if chosen else []
    return render(request, "club/age_groups.html", {"season": chosen, "age_groups": rows})


@who_may(STAFF)
def age_group(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.age_group(public_id))
    context = {
        "group": row,
        "figures": queries.figures_beside(row),
        "squads": queries.squads(row.season, age_group_ids=[row.pk]),
        "staff": queries.staff_of(row.pk),
    }
    return render(request, "club/age_group.html", context)


@who_may(LEADERS)
def add_age_group(request: HttpRequest, public_id: UUID) -> HttpResponse:
    chosen = found(queries.season(public_id))
    form = AgeGroupForm(typed(request))
    position = len(queries.age_groups(chosen))
    if form.done_by(actions.add_age_group, season=chosen, position=position):
        return said(
            request, _("Added. Compare with the published figures."), "club:age-group", form.result.public_id
        )
    title = _("Another age group in %(season)s") % {"season": chosen.name}
    back = reverse("club:season", args=[public_id])
    return form_page(request, form, title=title, verb=_("Add the age group"), back=back)


@who_may(LEADERS)
def change_age_group(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.age_group(public_id))
    form = AgeGroupForm.of(row, typed(request))
    if form.done_by(actions.change_age_group, age_group=row):
        return said(request, _("Saved."), "club:age-group", public_id)
    back = reverse("club:age-group", args=[public_id])
    return form_page(request, form, title=row.label, verb=_("Save"), back=back)
