"""Accounts are made by invitation only; too many wrong passwords are answered as such."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.exceptions import ImmediateHttpResponse
from allauth.core.ratelimit import respond_429
from django.core.exceptions import ValidationError
from django.http import HttpRequest


class InvitedOnly(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        """One answer for every limit: 429, whether the address or the account was tried too often."""
        try:
            super().pre_authenticate(request, **credentials)
        except ValidationError as error:
            raise ImmediateHttpResponse(respond_429(request)) from error
