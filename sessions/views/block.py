"""A block on one page, and what stands behind each of its numbers."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from club import queries as club
from club import reading
from club.access import STAFF, found, who_may
from sessions import access, pages


@who_may(STAFF)
def block(request: HttpRequest) -> HttpResponse:
    """The block of today, or the one that was asked for: what is missing this week, then all teams."""
    season = club.current_season()
    blocks = club.blocks(season) if season else []
    asked = reading.outer_id(request.GET.get("block"))
    shown = next((each for each in blocks if each.public_id == asked), None) or club.block_among(blocks)
    page = pages.block_page(request.actor, shown, blocks) if shown else None
    return render(request, "sessions/block/block.html", {"page": page, "season": season})


@who_may(STAFF)
def taught(request: HttpRequest, public_id: UUID, theme_id: UUID, squad_id: UUID) -> HttpResponse:
    """The sessions in which a team is taught a theme in a block."""
    row = found(club.block(public_id))
    theme = found(club.theme(theme_id))
    team = access.squad_for_weeks(request.actor, squad_id)
    return render(request, "sessions/block/taught.html", {"page": pages.taught_page(row, team, theme)})
