"""What the club means to teach when: the blocks of a season, and the share of each theme in them."""

from collections.abc import Iterable, Mapping
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import actions, queries, reading
from club.access import LEADERS, STAFF, found, who_may
from club.forms import BlockForm, TargetsForm, fields_of
from club.views.pages import do, form_page, said, typed


@who_may(STAFF)
def blocks(request: HttpRequest) -> HttpResponse:
    """The blocks of the season that runs, each with the themes that are meant for every age group."""
    season = queries.current_season()
    rows = queries.blocks(season) if season else []
    groups = list(queries.age_groups(season)) if season else []
    titles = dict(queries.theme_titles())
    shown = [(each, _by_group(groups, queries.shares_of(each), titles)) for each in rows]
    return render(
        request,
        "club/blocks/list.html",
        {"season": season, "blocks": shown, "now": queries.block_among(rows)},
    )


def _by_group(
    groups: Iterable[Any], shares: Mapping[int, Mapping[str, int]], titles: Mapping[str, str]
) -> list[tuple[Any, list[tuple[str, int]]]]:
    return [
        (group, [(titles.get(key, key), share) for key, share in shares.get(group.pk, {}).items()])
        for group in groups
    ]


@who_may(LEADERS)
def add_block(request: HttpRequest) -> HttpResponse:
    season = found(queries.current_season())
    form = BlockForm(typed(request))
    if form.done_by(actions.add_block, season=season):
        return said(request, _("The block is there. Now its themes."), "club:blocks")
    back = reverse("club:blocks")
    return form_page(request, form, title=_("Add a block"), verb=_("Add the block"), back=back)


@who_may(LEADERS)
def change_block(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.block(public_id))
    form = BlockForm.of(row, typed(request))
    if form.done_by(actions.change_block, block=row):
        return said(request, _("Saved."), "club:blocks")
    return form_page(request, form, title=row.name, verb=_("Save"), back=reverse("club:blocks"))


@who_may(LEADERS)
def remove_block(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Asked once: its targets go with it, sessions stay."""
    row = found(queries.block(public_id))
    if request.method == "POST":
        version = reading.version(request.POST.get("version"))
        return do(
            request,
            _("The block is gone."),
            "club:blocks",
            action=lambda: actions.remove_block(block=row, version=version),
        )
    return render(request, "club/blocks/remove.html", {"block": row})


@who_may(LEADERS)
@require_POST
def divide_season(request: HttpRequest) -> HttpResponse:
    season = found(queries.current_season())
    words = _(
        "The season is in blocks, each with themes to begin with. Change what your club does otherwise."
    )
    return do(request, words, "club:blocks", action=lambda: actions.divide_season(season=season))


@who_may(LEADERS)
def targets(request: HttpRequest, public_id: UUID, group_id: UUID) -> HttpResponse:
    """The shares of one age group in one block."""
    row, group = found(queries.block(public_id)), found(queries.age_group(group_id))
    themes = queries.themes()
    shares = queries.shares_of(row, group).get(group.pk, {})
    form = TargetsForm(typed(request), themes=themes, initial={**fields_of(shares), "version": row.version})
    if form.done_by(actions.set_targets, block=row, age_group=group):
        return said(request, _("Saved."), "club:blocks")
    title = _("%(block)s: themes of %(group)s") % {"block": row.name, "group": group.label}
    lead = _(
        "What share of the minutes each theme should get, in percent. A drill may serve two themes, so they may come to "
        "more than 100."
    )
    return form_page(request, form, title=title, verb=_("Save"), back=reverse("club:blocks"), lead=lead)
