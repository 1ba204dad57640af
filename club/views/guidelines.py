"""Published figures, each with its source: advice that defers to local rules and licensed practice."""

from itertools import groupby
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import actions, queries
from club.access import LEADERS, STAFF, found, who_may
from club.forms import GuidelineForm
from club.views.pages import form_page, said, typed


@who_may(STAFF)
def guidelines(request: HttpRequest) -> HttpResponse:
    rows = queries.guideline_rows()
    rules = [(label, list(found)) for label, found in groupby(rows, key=lambda row: row.get_rule_display())]
    return render(request, "club/guidelines.html", {"rules": rules, "today": queries.today()})


@who_may(LEADERS)
def add_guideline(request: HttpRequest) -> HttpResponse:
    form = GuidelineForm(typed(request), initial={"first_day": queries.today()})
    if form.done_by(actions.add_guideline):
        return said(request, _("The figure is on the list."), "club:guidelines")
    back = reverse("club:guidelines")
    return form_page(request, form, title=_("Another figure"), verb=_("Add the figure"), back=back)


@who_may(LEADERS)
def change_guideline(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.guideline(public_id))
    form = GuidelineForm.of(row, typed(request))
    if form.done_by(actions.change_guideline, guideline=row):
        return said(request, _("Saved as the club's own figure."), "club:guidelines")
    title = f"{row.get_rule_display()}, U{row.age_low}–U{row.age_high}"
    lead = _("A club may be stricter, or follow its own league. Say whose figure it is.")
    back = reverse("club:guidelines")
    return form_page(request, form, title=title, verb=_("Save"), back=back, lead=lead)
