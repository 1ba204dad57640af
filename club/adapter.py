"""Accounts are made by invitation only; too many wrong passwords are answered as such; mail goes through the worker."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.exceptions import ImmediateHttpResponse
from allauth.core.ratelimit import respond_429
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.http import HttpRequest

from club import actions
from club.actions.mail import CONFIRMATION


class InvitedOnly(DefaultAccountAdapter):
    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        """One answer for every limit: 429, whether the address or the account was tried too often."""
        try:
            super().pre_authenticate(request, **credentials)
        except ValidationError as error:
            raise ImmediateHttpResponse(respond_429(request)) from error

    def send_confirmation_mail(self, request: HttpRequest, emailconfirmation: Any, signup: bool) -> None:
        address = emailconfirmation.email_address
        actions.post(kind=CONFIRMATION, user_id=address.user_id, address_id=address.pk)

    def send_notification_mail(
        self, template_prefix: str, user: Any, context: dict[str, Any] | None = None, email: str | None = None
    ) -> None:
        """Tell somebody that their sign-in was changed."""
        to = {"to": email} if email else {}
        actions.post(kind=template_prefix, user_id=user.pk, **(context or {}), **to)

    def send_mail(self, template_prefix: str, email: str, context: dict[str, Any]) -> None:
        """All mail goes the two ways above, or is a link to a new password (`club.forms.ForgottenForm`)."""
        raise NotImplementedError(f"{template_prefix} has no way to be sent")

    def confirm_email(self, request: HttpRequest, email_address: Any) -> bool:
        """False where somebody took the same address at the same moment."""
        try:
            with transaction.atomic():
                return bool(super().confirm_email(request, email_address))
        except IntegrityError:
            return False
