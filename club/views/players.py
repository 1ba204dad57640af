"""Players, for those who keep them: a name for the list, a shirt number, and nothing else."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import access, actions, pages, queries, reading
from club.access import COACHES, DIRECTOR, HELPERS, found, who_may
from club.choices import READS_KEPT_DAYS, NamesOn
from club.forms import MovePlayerForm, PlayerForm, PlayersForm
from club.views.pages import do, form_page, said, typed

READINGS_SHOWN = 25


@who_may(COACHES)
def add_players(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Several at once, one a line."""
    squad = access.squad_to_keep(request.actor, public_id)
    form = PlayersForm(typed(request))
    if form.done_by(actions.add_players, squad=squad):
        words = _("%(n)d on the list.") % {"n": len(form.result)}
        return said(request, words, "club:squad", public_id)
    title = _("Players for %(squad)s") % {"squad": squad.name}
    back = reverse("club:squad", args=[public_id])
    return form_page(request, form, title=title, verb=_("Add them"), back=back, note="players")


@who_may(COACHES)
def player(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Change a player; move, leave and erase stand below."""
    row, squad, others = access.player_and_squads(request.actor, public_id)
    actions.note_reading(user_id=request.actor.user_id, squad_ids=[squad.pk], page=NamesOn.PLAYER)
    form = PlayerForm.of(row, typed(request))
    if form.done_by(actions.change_player, player=row, squad=squad):
        return said(request, _("Saved."), "club:squad", squad.public_id)
    context = {"player": row, "squad": squad, "form": form, "move_form": MovePlayerForm(squads=others)}
    guidance = pages.after_a_knock(queries.club_settings().emergency_number)
    out = {"out": queries.out_row(row), "guidance": guidance}
    return render(request, "club/player.html", context | {"others": others} | out)


@who_may(HELPERS)
@require_POST
def set_out(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Out until lifted, in every team's register."""
    row = access.player_to_set_out(request.actor, public_id)
    words = _("Out until a coach of theirs lifts it, in every team. No reason is saved.")
    by = request.actor.user_id
    return _then(request, row, words, lambda: actions.set_out(player=row, by_id=by))


@who_may(COACHES)
@require_POST
def lift_out(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """May take part again."""
    row = access.player_to_lift(request.actor, public_id)
    by = request.actor.user_id
    return _then(
        request, row, _("Lifted: may take part again."), lambda: actions.lift_out(player=row, by_id=by)
    )


def _then(request: HttpRequest, row: Any, words: str, action: Callable[[], Any]) -> HttpResponse:
    """Back to the player's team; a former player's list for one who has none."""
    squad = queries.squad_of_player(str(row.public_id))
    to = ("club:squad", squad.public_id) if squad else ("club:squads-left",)
    return do(request, words, *to, action=action)


@who_may(COACHES)
@require_POST
def move_player(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row, squad = access.player_to_keep(request.actor, public_id)
    form = MovePlayerForm(request.POST, squads=access.squads_to_keep(request.actor))
    if form.done_by(actions.move_player, player=row, version=row.version):
        return said(request, _moved(row, form.result), "club:squad", squad.public_id)
    title = _("Add a team for %(name)s") % {"name": row.display_name}
    back = reverse("club:squad-player", args=[public_id])
    return form_page(request, form, title=title, verb=_("Move"), back=back)


def _moved(before: Any, after: Any) -> str:
    if before.shirt and after.shirt is None:
        words = _("Moved, from today on. Number %(n)d is worn there already: give another one.")
        return words % {"n": before.shirt}
    return _("Moved, from today on.")


@who_may(COACHES)
@require_POST
def leave_squad(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row, squad = access.player_to_keep(request.actor, public_id)
    words = _("No longer in the team, from today on.")
    return do(request, words, "club:squad", squad.public_id, action=lambda: actions.leave_squad(player=row))


@who_may(COACHES)
@require_POST
def erase_player(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The name goes everywhere, for good."""
    row, squad = access.player_to_keep(request.actor, public_id)
    words = _("Erased. Counts and loads stay, without a person.")
    return do(request, words, "club:squad", squad.public_id, action=lambda: actions.erase_player(player=row))


@who_may(DIRECTOR)
def without_squad(request: HttpRequest) -> HttpResponse:
    """Players who left: to put back, or to erase when their time has come."""
    context = {"players": queries.players_without_squad(), "squads": list(queries.squads())}
    return render(request, "club/players_without_squad.html", context)


@who_may(DIRECTOR)
@require_POST
def put_back(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.player(public_id))
    form = MovePlayerForm(request.POST, squads=access.squads_to_keep(request.actor))
    if form.done_by(actions.move_player, player=row, version=row.version):
        return said(request, _moved(row, form.result), "club:squads-left")
    return form_page(
        request, form, title=row.display_name, verb=_("Put back"), back=reverse("club:squads-left")
    )


@who_may(DIRECTOR)
@require_POST
def erase_former(request: HttpRequest, public_id: UUID) -> HttpResponse:
    row = found(queries.player(public_id))
    words = _("Erased. Counts and loads stay, without a person.")
    return do(request, words, "club:squads-left", action=lambda: actions.erase_player(player=row))


@who_may(DIRECTOR)
def readings(request: HttpRequest) -> HttpResponse:
    """Who read players' names: newest first, of everybody or of one person."""
    readers, asked = queries.readers(), reading.outer_id(request.GET.get("person"))
    chosen = next((each for each in readers if each.public_id == asked), None)
    place = reading.whole(request.GET.get("page"), 1) or 1
    page = Paginator(queries.readings(chosen), READINGS_SHOWN).get_page(place)
    context = {"page": page, "readers": readers, "chosen": chosen, "days": READS_KEPT_DAYS}
    return render(request, "club/readings.html", context)
