"""Pitches with their zones; kit and bibs."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import actions, pages, queries, reading
from club.access import LEADERS, STAFF, found, who_may
from club.forms import PitchForm, StockForm, StockItemForm, ZoneForm
from club.queries.leaving import Leaving
from club.views.pages import do, form_page, leaving_page, said, typed


@who_may(STAFF)
def pitches(request: HttpRequest) -> HttpResponse:
    return render(request, "club/pitches.html", {"pitches": pages.pitches_shown(queries.pitches())})


@who_may(LEADERS)
def add_pitch(request: HttpRequest) -> HttpResponse:
    form = PitchForm(typed(request))
    if form.done_by(actions.add_pitch, position=len(queries.pitches())):
        return said(request, _("The pitch can be booked now."), "club:pitches")
    back = reverse("club:pitches")
    title, verb = _("Add a pitch"), _("Add the pitch")
    return form_page(request, form, title=title, verb=verb, back=back, drawn=form.drawn())


@who_may(LEADERS)
def change_pitch(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.pitch(public_id))
    form = PitchForm.of(row, typed(request))
    if form.done_by(actions.change_pitch, pitch=row):
        return said(request, _("Saved."), "club:pitches")
    return form_page(request, form, title=row.name, verb=_("Save"), back=reverse("club:pitches"))


@who_may(LEADERS)
def retire_pitch(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Asked first, with what it would leave uncovered."""
    row = found(queries.pitch(public_id))
    if request.method != "POST":
        title = _("Remove {name} from the list?").format(name=row.name)
        lead = _("Nobody can book it any more. Sessions that were there still name it.")
        asked = {"title": title, "lead": lead, "verb": _("Remove it"), "back": reverse("club:pitches")}
        return leaving_page(request, Leaving(pitch_id=row.pk), version=row.version, **asked)
    words = _("Removed from the list. Sessions that were there still name it.")
    return do(
        request,
        words,
        "club:pitches",
        action=lambda: actions.retire_pitch(pitch=row, version=reading.version(request.POST.get("version"))),
    )


@who_may(LEADERS)
def add_zone(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.pitch(public_id))
    form = ZoneForm(typed(request))
    if form.done_by(actions.add_zone, pitch=row):
        return said(request, _("The space can be booked now."), "club:pitches")
    title, back = _("Add a space on %(pitch)s") % {"pitch": row.name}, reverse("club:pitches")
    return form_page(request, form, title=title, verb=_("Add the space"), back=back, drawn=form.drawn())


@who_may(LEADERS)
def change_zone(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.zone(public_id))
    form = ZoneForm.of(row, typed(request))
    if form.done_by(actions.change_zone, zone=row):
        return said(request, _("Saved."), "club:pitches")
    back = reverse("club:pitches")
    return form_page(request, form, title=str(row), verb=_("Save"), back=back, drawn=form.drawn())


@who_may(STAFF, write=LEADERS)
def kit(request: HttpRequest) -> HttpResponse:
    """The bag: how many of each; leaders type over the numbers."""
    form = StockForm(typed(request), kit=queries.kit_rows(), bibs=queries.bib_rows())
    if form.done_by(actions.save_stock):
        return said(request, _("Counted."), "club:kit")
    return render(request, "club/kit.html", {"form": form, "item_form": StockItemForm()})


@who_may(LEADERS)
def add_kit(request: HttpRequest) -> HttpResponse:
    form = StockItemForm(typed(request))
    if form.done_by(actions.add_stock):
        return said(request, _("It is in the bag."), "club:kit")
    title, back = _("Add kit, or bibs"), reverse("club:kit")
    return form_page(request, form, title=title, verb=_("Add it"), back=back)
