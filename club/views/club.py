"""The club itself: its settings, seasons with their age groups, themes, and published figures.

A figure stands with its source: advice that defers to local rules and licensed practice.
"""

from itertools import groupby
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from club import actions, limits, queries, reading
from club.access import LEADERS, STAFF, found, who_may
from club.choices import OF_A_PITCH, MomentOfGame
from club.forms import AgeGroupForm, GuidelineForm, SeasonForm, SettingsForm, ThemeForm
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
    return form_page(request, form, title=_("Club settings"), verb=_("Save"), back=reverse("club:home"))


@who_may(LEADERS)
def add_season(request: HttpRequest) -> HttpResponse:
    form = SeasonForm(typed(request))
    if form.done_by(actions.add_season):
        return said(request, _("Season added. Now its age groups."), "club:season", form.result.public_id)
    back = reverse("club:home")
    return form_page(request, form, title=_("Add a season"), verb=_("Add the season"), back=back)


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
    return form_page(request, form, title=_("Add a theme"), verb=_("Add the theme"), back=back)


@who_may(LEADERS)
def change_theme(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.theme(public_id))
    form = ThemeForm(typed(request), initial={"title": row.title, "moment": row.moment})
    if form.done_by(actions.set_theme, key=row.key, position=row.position):
        return said(request, _("Saved."), "club:themes")
    lead = _("Drills keep their theme: its short name stays %(key)s.") % {"key": row.key}
    return form_page(request, form, title=row.title, verb=_("Save"), back=reverse("club:themes"), lead=lead)


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
        "settings": queries.club_settings(),
        "squads": queries.squads(row.season, age_group_ids=[row.pk]),
        "staff": queries.staff_of(row.pk),
    }
    return render(request, "club/age_group.html", context)


@who_may(LEADERS)
def add_age_group(request: HttpRequest, public_id: UUID) -> HttpResponse:
    chosen = found(queries.season(public_id))
    form = AgeGroupForm(typed(request), initial=_asked(request))
    position = len(queries.age_groups(chosen))
    if form.done_by(actions.add_age_group, season=chosen, position=position):
        return said(
            request, _("Added. Compare with the published figures."), "club:age-group", form.result.public_id
        )
    title = _("Another age group in %(season)s") % {"season": chosen.name}
    back = reverse("club:season", args=[public_id])
    return form_page(request, form, title=title, verb=_("Add the age group"), back=back, **_holds(form))


@who_may(LEADERS)
def change_age_group(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.age_group(public_id))
    form = AgeGroupForm.of(row, typed(request))
    if form.done_by(actions.change_age_group, age_group=row):
        return said(request, _("Saved."), "club:age-group", public_id)
    back = reverse("club:age-group", args=[public_id])
    return form_page(request, form, title=row.label, verb=_("Save"), back=back, **_holds(form))


def _asked(request: HttpRequest) -> dict[str, str]:
    """What an address says of an age group that is to be added: `?under=12&years=1&match_format=9v9`."""
    names = ("label", "under", "years", "over", "match_format")
    return {name: said for name in names if (said := reading.text(request.GET.get(name))[: limits.SHORT])}


def _holds(form: Any) -> dict[str, Any]:
    """What follows from the ages that a form says: the note beside it, as far as it can be told."""
    ages = form.ages()
    rows = queries.guidelines_of(ages, form.format()) if ages else []
    words = ages.said(_) if ages else ""
    settings = queries.club_settings()
    return {"note": "ages", "ages": ages, "ages_words": words, "rows": rows, "settings": settings}


@who_may(STAFF)
def guidelines(request: HttpRequest) -> HttpResponse:
    rows = queries.guideline_rows()
    rules = [(label, list(found)) for label, found in groupby(rows, key=lambda row: row.get_rule_display())]
    return render(request, "club/guidelines.html", {"rules": rules, "today": queries.today()})


@who_may(LEADERS)
def add_guideline(request: HttpRequest) -> HttpResponse:
    form = GuidelineForm(typed(request), initial={"first_day": queries.today()})
    if form.done_by(actions.add_guideline):
        words = _("The figure is on the list.")
        return said(request, _with_pitch(words, form.cleaned_data["rule"]), "club:guidelines")
    back = reverse("club:guidelines")
    return form_page(request, form, title=_("Add a figure"), verb=_("Add the figure"), back=back)


def _with_pitch(words: str, rule: str) -> str:
    """With what a match pitch changes: the most room in a grid at once, what the library lists by a job."""
    if rule not in OF_A_PITCH:
        return words
    more = _("Grids keep to it at once; the library's list of what fits follows within the hour.")
    return f"{words} {more}"


@who_may(LEADERS)
def change_guideline(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.guideline(public_id))
    form = GuidelineForm.of(row, typed(request))
    if form.done_by(actions.change_guideline, guideline=row):
        words = _("Saved as the club's own figure.")
        return said(request, _with_pitch(words, row.rule), "club:guidelines")
    title = f"{row.get_rule_display()}, {row.ages_words}"
    lead = _("A club may be stricter, or follow its own league. Say whose figure it is.")
    back = reverse("club:guidelines")
    return form_page(request, form, title=title, verb=_("Save"), back=back, lead=lead)
