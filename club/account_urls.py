"""Addresses of signing in: those of allauth that the club uses, and no other.

Their names are allauth's, which asks for them. What needs mail is there where mail is set.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.account import views as account
from allauth.mfa.base import views as second_step
from allauth.mfa.recovery_codes import views as codes
from allauth.mfa.totp import views as totp
from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path, re_path

View = Callable[..., HttpResponse]


def with_mail(view: View, instead: str = "") -> View:
    """A view that needs mail; without a server for it there is the page `instead`, or none."""

    @wraps(view)
    def asked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if settings.MAIL_IS_SET:
            return view(request, *args, **kwargs)
        if not instead:
            raise Http404
        return render(request, instead)

    return asked


forgotten = with_mail(account.password_reset, "account/password_reset_without_mail.html")

urlpatterns = [
    path("login/", account.login, name="account_login"),
    path("logout/", account.logout, name="account_logout"),
    path("inactive/", account.account_inactive, name="account_inactive"),
    path("reauthenticate/", account.reauthenticate, name="account_reauthenticate"),
    path("password/change/", account.password_change, name="account_change_password"),
    path("password/set/", account.password_set, name="account_set_password"),
    path("password/reset/", forgotten, name="account_reset_password"),
    path("password/reset/done/", with_mail(account.password_reset_done), name="account_reset_password_done"),
    path(
        "password/reset/key/done/",
        account.password_reset_from_key_done,
        name="account_reset_password_from_key_done",
    ),
    re_path(
        r"^password/reset/key/(?P<uidb36>[0-9A-Za-z]{1,12})-(?P<key>[0-9A-Za-z-]{1,100})/$",
        account.password_reset_from_key,
        name="account_reset_password_from_key",
    ),
    path("email/", with_mail(account.email), name="account_email"),
    re_path(
        r"^confirm-email/(?P<key>[-:\w]{1,200})/$",
        with_mail(account.confirm_email),
        name="account_confirm_email",
    ),
    path("2fa/", second_step.index, name="mfa_index"),
    path("2fa/authenticate/", second_step.authenticate, name="mfa_authenticate"),
    path("2fa/reauthenticate/", second_step.reauthenticate, name="mfa_reauthenticate"),
    path("2fa/totp/activate/", totp.activate_totp, name="mfa_activate_totp"),
    path("2fa/totp/deactivate/", totp.deactivate_totp, name="mfa_deactivate_totp"),
    path("2fa/recovery-codes/", codes.view_recovery_codes, name="mfa_view_recovery_codes"),
    path("2fa/recovery-codes/generate/", codes.generate_recovery_codes, name="mfa_generate_recovery_codes"),
    path("2fa/recovery-codes/download/", codes.download_recovery_codes, name="mfa_download_recovery_codes"),
]
