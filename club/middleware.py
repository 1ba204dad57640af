"""Put the actor on each request, and its moments on the club's clock; both are read only when something asks."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from club import queries, reading
from club.access import turned_away
from club.queries.settings import ClubZone, settings_read_once


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
        with settings_read_once(), timezone.override(ClubZone()):
            return self.get_response(request)


class AccessFirst:
    """Ask whether somebody may send this before the check for forgery reads what was sent."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: list[Any], kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Endpoints of the API decide by themselves: whose token it is, only they find out."""
        reads = request.method in ("GET", "HEAD")
        return None if reads or not hasattr(view, "who_may_write") else turned_away(view, request)
