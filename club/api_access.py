"""Who may call an endpoint, and how often. Loaded by REST framework's own settings, so it imports no views."""

import re
from copy import copy
from typing import Any

from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from knox.auth import TokenAuthentication
from rest_framework.authentication import SessionAuthentication
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.throttling import UserRateThrottle

from club import queries
from club.access import Who

TOKEN = re.compile(rb"[0-9A-Za-z]{1,128}")


class Decided(BasePermission):
    """Allow what the view's `who_may` says: one group for all methods, or a group per method."""

    message = gettext_lazy("Your role doesn't include this.")

    def has_permission(self, request: Request, view: Any) -> bool:
        declared: Who | dict[str, Who] = view.who_may
        request.actor = queries.actor_of(request.user)
        method = "GET" if request.method in ("HEAD", "OPTIONS") else request.method
        who = declared if isinstance(declared, Who) else declared.get(method or "")
        return who is not None and who.includes(request.actor)


class ByToken(TokenAuthentication):
    """A token in the header `Authorization`. What can't be one is never looked for."""

    def authenticate_credentials(self, token: bytes) -> Any:
        if TOKEN.fullmatch(token) is None:
            raise AuthenticationFailed(_("Invalid token."))
        return super().authenticate_credentials(token)


class SignedIn(SessionAuthentication):
    """A signed-in browser. Its forgery token comes in the header alone, so that nobody reads the body before access is
    decided: a parser would meet it then, and who asks for its bytes afterwards would find them used up."""

    def enforce_csrf(self, request: Request) -> None:
        bare: Any = copy(request._request)
        bare.POST = QueryDict()
        super().enforce_csrf(bare)


class TokenRate(UserRateThrottle):
    """Requests with a token are counted per token's owner; pages of a signed-in browser are not."""

    scope = "token"

    def allow_request(self, request: Request, view: Any) -> bool:
        return request.auth is None or super().allow_request(request, view)
