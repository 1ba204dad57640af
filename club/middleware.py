"""Put the actor on each request, and its moments on the club's clock; both are read only when something asks."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from club import queries
from club.queries.settings import ClubZone, settings_read_once


class ActorMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.actor = SimpleLazyObject(lambda: queries.actor_of(request.user))  # type: ignore[attr-defined]
        with settings_read_once(), timezone.override(ClubZone()):
            return self.get_response(request)
