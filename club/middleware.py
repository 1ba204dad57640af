"""Put the actor on each request; the roles are read only when something asks."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.functional import SimpleLazyObject

from club import queries, reading
from club.queries.settings import settings_read_once


class KeepableCookies:
    """Leave out cookies with characters that no database keeps: none of ours has any, and the session is looked for by its."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.COOKIES = {name: value for name, value in request.COOKIES.items() if reading.is_text(value)}
        return self.get_response(request)


class ActorMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.actor = SimpleLazyObject(lambda: queries.actor_of(request.user))  # type: ignore[attr-defined]
        with settings_read_once():
            return self.get_response(request)
