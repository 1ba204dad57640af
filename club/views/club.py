"""The club itself: its settings, seasons, themes."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import actions, queries
from club.access import LEADERS, STAFF, found, who_may
from club.choices import MomentOfGame
from club.forms import SeasonForm, SettingsForm, ThemeForm
from club.views.pages import form_page, said, typed


@who_may(STAFF)
def home(request: HttpRequest) -> HttpResponse:
    """What the club has set for everybody, and the way to the rest."""
    return render(
        request, "club/home.html", {"settings": queries.club_settings(), "seasons": queries.seasons()}
    )


@who_may(LEADERS)
def settings(request: HttpRequest) -> HttpResponse:
    form = SettingsForm.of(queries.club_settings(), typed(request))
    if form.done_by(actions.save_settings):
        return said(request, _("Saved."), "club:home")
    return form_page(
        request, form, title=_("Settings of the club"), verb=_("Save"), back=reverse("club:home")
    )


@who_may(LEADERS)
def add_season(request: HttpRequest) -> HttpResponse:
    form = SeasonForm(typed(request))
    if form.done_by(actions.add_season):
        return said(
            request, _("The season stands. Now its age groups."), "club:season", form.result.public_id
        )
    back = reverse("club:home")
    return form_page(request, form, title=_("Another season"), verb=_("Add the season"), back=back)


@who_may(STAFF)
def themes(request: HttpRequest) -> HttpResponse:
    """What the club wants taught, under the moments of the game; leaders add one beside it."""
    rows = queries.themes()
    by_moment = [
        (label, [row for row in rows if row.moment == moment]) for moment, label in MomentOfGame.choices
    ]
    return render(request, "club/themes.html", {"moments": by_moment})


@who_may(LEADERS)
def add_theme(request: HttpRequest) -> HttpResponse:
    form = ThemeForm(typed(request))
    if form.done_by(actions.add_theme):
        return said(request, _("The theme is on the list."), "club:themes")
    back = reverse("club:themes")
    return form_page(request, form, title=_("Another theme"), verb=_("Add the theme"), back=back)


@who_may(LEADERS)
def change_theme(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.theme(public_id))
    form = ThemeForm(typed(request), initial={"title": row.title, "moment": row.moment})
    if form.done_by(actions.set_theme, key=row.key, position=row.position):
        return said(request, _("Saved."), "club:themes")
    lead = _("Drills keep their theme: its short name stays %(key)s.") % {"key": row.key}
    return form_page(request, form, title=row.title, verb=_("Save"), back=reverse("club:themes"), lead=lead)
