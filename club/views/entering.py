"""Ways in by a one-time link. Looking at one spends nothing: previews of links look too."""

from typing import Any

from allauth.account.utils import perform_login
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from club import actions, queries
from club.access import ANYONE, who_may
from club.choices import LinkKind
from club.forms import BY_LINK, EnterForm, InvitedForm, SetUpForm
from club.views.pages import form_page, typed


def _spent(request: HttpRequest) -> HttpResponse:
    """A link that was used, has expired, or never was: the three look the same to a stranger."""
    return render(request, "club/link_spent.html", status=410)


def _sign_in(request: HttpRequest, user: Any) -> HttpResponse:
    """Go on to the first page, by the second step at sign-in where the person has one."""
    return perform_login(request, user, email_verification="none", redirect_url="/")


@who_may(ANYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def enter(request: HttpRequest, secret: str) -> HttpResponse:
    """Sign in once, without a password."""
    link = queries.link_for(secret, kind=LinkKind.SIGN_IN)
    if link is None or link.user is None:
        return _spent(request)
    form = EnterForm(typed(request))
    if form.done_by(actions.enter, secret=secret):
        response = _sign_in(request, form.result)
        request.session[BY_LINK] = timezone.now().timestamp()  # also where the second step is still to come
        return response
    title = _("Sign in as %(name)s") % {"name": link.user.name}
    lead = _("This link works once. On a shared phone, sign out afterwards.")
    return form_page(request, form, title=title, verb=_("Sign in"), back="", lead=lead)


@who_may(ANYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def invited(request: HttpRequest, secret: str) -> HttpResponse:
    """Accept an invitation: a name and a password, or one more role for somebody who has an account."""
    link = queries.link_for(secret, kind=LinkKind.INVITATION)
    if link is None:
        return _spent(request)
    known = queries.user_by_email(link.email) is not None
    form = InvitedForm(typed(request), known=known)
    if form.done_by(actions.accept_invitation, secret=secret):
        if not known:
            return _sign_in(request, form.result)
        messages.success(request, _("The role is yours. Sign in as always."))
        return redirect("tonight" if request.user.is_authenticated else "account_login")
    return render(request, "club/invited.html", {"form": form, "link": link, "known": known})


@who_may(ANYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def set_up(request: HttpRequest, secret: str) -> HttpResponse:
    """The first administrator, the club's name and its season."""
    if queries.link_for(secret, kind=LinkKind.SET_UP) is None:
        return _spent(request)
    has_club = not queries.club_settings()._state.adding
    has_season = queries.current_season() is not None
    form = SetUpForm(typed(request), has_club=has_club, has_season=has_season)
    if form.done_by(actions.set_up_club, secret=secret):
        return _sign_in(request, form.result)
    lead = _("You become its administrator and director. Next come age groups, pitches and kit.")
    title = _("Set up your club")
    return form_page(request, form, title=title, verb=_("Set it up"), back="", lead=lead, narrow=True)
