"""Who may call an endpoint, and how often. Loaded by REST framework's own settings, so it imports no views."""

from typing import Any

from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.throttling import UserRateThrottle

from club import queries
from club.access import Who


class Decided(BasePermission):
    """Allow what the view's `who_may` says: one group for all methods, or a group per method."""

    message = "Your role doesn't include this."

    def has_permission(self, request: Request, view: Any) -> bool:
        declared: Who | dict[str, Who] = view.who_may
        request.actor = queries.actor_of(request.user)
        method = "GET" if request.method in ("HEAD", "OPTIONS") else request.method
        who = declared if isinstance(declared, Who) else declared.get(method or "")
        return who is not None and who.includes(request.actor)


class TokenRate(UserRateThrottle):
    """Requests with a token are counted per token's owner; pages of a signed-in browser are not."""

    scope = "token"

    def allow_request(self, request: Request, view: Any) -> bool:
        return request.auth is None or super().allow_request(request, view)
