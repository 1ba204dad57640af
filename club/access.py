"""Who may do what. A view says it with `who_may`; `route` refuses a view that doesn't.

Functions that find one thing return it, or raise a 404 that says nothing about whether it is there.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, TypeVar
from uuid import UUID

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import ImproperlyConfigured, PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import URLPattern, path

from club import queries
from club.actor import Actor
from club.models import Player, Squad

View = Callable[..., HttpResponse]
Found = TypeVar("Found")


@dataclass(frozen=True)
class Who:
    """A named group of people, as a test of the actor."""

    name: str
    includes: Callable[[Actor], bool]


ANYONE = Who("anyone", lambda actor: True)
SIGNED_IN = Who("signed in", lambda actor: actor.is_signed_in)
STAFF = Who("staff", lambda actor: actor.is_staff or actor.is_administrator)
HELPERS = Who("helpers", lambda actor: actor.is_director or bool(actor.age_groups))
COACHES = Who("coaches", lambda actor: actor.is_director or actor.is_coach)
DIRECTOR = Who("director", lambda actor: actor.is_director)
LEADERS = Who("director or administrator", lambda actor: actor.leads)


def who_may(who: Who, *, write: Who | None = None) -> Callable[[View], View]:
    """Decide who may call this view; `write` is for methods other than GET and HEAD, where it differs."""

    def decorate(view: View) -> View:
        @wraps(view)
        def decided(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            return turned_away(decided, request) or view(request, *args, **kwargs)

        decided.who_may = who  # type: ignore[attr-defined]
        decided.who_may_write = write or who  # type: ignore[attr-defined]
        return decided

    return decorate


def turned_away(view: Any, request: HttpRequest) -> HttpResponse | None:
    """What somebody gets who may not call a decided view; None for whoever may. Raises PermissionDenied."""
    wanted: Who = view.who_may if request.method in ("GET", "HEAD") else view.who_may_write
    actor = request.actor  # type: ignore[attr-defined]
    if wanted.includes(actor):
        return None
    if not actor.is_signed_in:
        return redirect_to_login(request.get_full_path())
    raise PermissionDenied


def decision_of(view: Any) -> Who | dict[str, Who] | None:
    """The decision that a view or an API view class declares, or None."""
    declared = getattr(view, "who_may", None)
    return declared if declared is not None else getattr(getattr(view, "cls", None), "who_may", None)


def route(pattern: str, view: Any, name: str) -> URLPattern:
    """A URL pattern for a view that declares who may; without a decision the view can't be loaded."""
    if decision_of(view) is None:
        raise ImproperlyConfigured(
            f"{view!r} at {pattern!r} does not say who may: use @who_may or `who_may =`"
        )
    return path(pattern, view, name=name)


def found(thing: Found | None) -> Found:
    """The thing, or a 404."""
    if thing is None:
        raise Http404
    return thing


def sees_names(actor: Actor, squad: Squad) -> bool:
    """Players' names are for the staff of their age group and the director."""
    return actor.works_with(squad.age_group_id)


def keeps_players(actor: Actor, squad: Squad) -> bool:
    """Players are kept by the coaches of their age group and the director."""
    return actor.plans_for(squad.age_group_id)


def squad_with_names(actor: Actor, public_id: UUID) -> Squad:
    """A squad whose players this person may read."""
    squad = found(queries.squad(public_id))
    return found(squad if sees_names(actor, squad) else None)


def squad_to_keep(actor: Actor, public_id: UUID) -> Squad:
    """A squad whose players this person may change."""
    squad = found(queries.squad(public_id))
    return found(squad if keeps_players(actor, squad) else None)


def player_to_keep(actor: Actor, public_id: UUID) -> tuple[Player, Squad]:
    """A player of a squad that this person keeps, with the squad."""
    player = found(queries.player(public_id))
    squad = found(queries.squad_of_player(str(public_id)))
    return player, found(squad if keeps_players(actor, squad) else None)


def player_and_squads(actor: Actor, public_id: UUID) -> tuple[Player, Squad, list[Squad]]:
    """The same with the other squads that this person keeps, to which the player may be moved."""
    player, squads = found(queries.player(public_id)), queries.squads_beside_a_players(public_id)
    squad = next((each for each in squads if each.is_theirs), None)  # type: ignore[attr-defined]
    squad = found(squad if squad and keeps_players(actor, squad) else None)
    return player, squad, [each for each in squads if keeps_players(actor, each) and each.pk != squad.pk]


def player_to_set_out(actor: Actor, public_id: UUID) -> Player:
    """A player whom this person may say is out until lifted: the staff of any team of theirs, helpers too.

    Taking a child off the pitch is the safe side, so whoever stands there may.
    """
    player = found(queries.player(public_id))
    groups = queries.age_groups_of_player(public_id)
    return found(player if actor.is_director or groups & actor.age_groups else None)


def player_to_lift(actor: Actor, public_id: UUID) -> Player:
    """A player whom this person may let play again: a coach of any team of theirs, who talks to the parents, or the director."""
    player = found(queries.player(public_id))
    groups = queries.age_groups_of_player(public_id)
    return found(player if actor.is_director or groups & actor.coach_of else None)


def squads_to_keep(actor: Actor) -> list[Squad]:
    """The squads whose players this person may change."""
    return list(queries.squads(age_group_ids=None if actor.is_director else actor.coach_of))
