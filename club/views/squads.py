"""Squads: counts for all staff, names for those who work with them."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import access, actions, queries
from club.access import LEADERS, STAFF, found, who_may
from club.choices import NamesOn
from club.forms import PlaceSquadForm, RenameSquadForm, SquadForm
from club.views.pages import do, form_page, said, typed


@who_may(STAFF)
def squads(request: HttpRequest) -> HttpResponse:
    context = {
        "squads": queries.squads(),
        "without_place": queries.squads_without_place() if request.actor.leads else [],
    }
    return render(request, "club/squads.html", context)


@who_may(STAFF)
def squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """One squad. Who reads the names is noted."""
    row = found(queries.squad(public_id))
    sees = access.sees_names(request.actor, row)
    if sees:
        actions.note_reading(user_id=request.actor.user_id, squad_ids=[row.pk], page=NamesOn.SQUAD)
    context = {
        "squad": row,
        "players": queries.players_of([row.pk]) if sees else [],
        "sees_names": sees,
        "keeps": access.keeps_players(request.actor, row),
    }
    return render(request, "club/squad.html", context)


@who_may(LEADERS)
def add_squad(request: HttpRequest) -> HttpResponse:
    form = SquadForm(typed(request), age_groups=queries.age_groups())
    if form.done_by(actions.add_squad):
        return said(request, _("Team added. Now its players."), "club:squad", form.result.public_id)
    back = reverse("club:squads")
    return form_page(request, form, title=_("Add a team"), verb=_("Add the team"), back=back)


@who_may(LEADERS)
def change_squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.squad(public_id))
    form = RenameSquadForm.of(row, typed(request))
    if form.done_by(actions.change_squad, squad=row):
        return said(request, _("Saved."), "club:squad", public_id)
    back = reverse("club:squad", args=[public_id])
    return form_page(request, form, title=row.name, verb=_("Save"), back=back)


@who_may(LEADERS)
def place_squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The squad's age group in the running season: a new season begins with this."""
    row = found(queries.squad_in_use(public_id))
    form = PlaceSquadForm(typed(request), age_groups=queries.age_groups())
    if form.done_by(actions.place_squad, squad=row):
        return said(request, _("The team is in its age group."), "club:squad", public_id)
    title = _("The age group of %(squad)s") % {"squad": row.name}
    return form_page(request, form, title=title, verb=_("Save"), back=reverse("club:squads"))


@who_may(LEADERS)
@require_POST
def retire_squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.squad_in_use(public_id))
    words = _("Removed from the list. Its sessions and its players stay.")
    return do(
        request, words, "club:squads", action=lambda: actions.retire_squad(squad=row, version=row.version)
    )
