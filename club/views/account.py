"""One's own account: name, pace, tokens for the API."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import actions, queries
from club.access import SIGNED_IN, who_may
from club.forms import AccountForm, TokenForm
from club.views.pages import do, said, typed


@who_may(SIGNED_IN)
def account(request: HttpRequest) -> HttpResponse:
    """Name and pace, and the way to password, second step and tokens."""
    user = queries.own_account(request.actor)
    form = AccountForm(typed(request), initial={"name": user.name, "pace_m": user.pace_m})
    if form.done_by(actions.save_own_account, user=user):
        return said(request, _("Saved."), "club:account")
    context = {"form": form, "tokens": queries.tokens_of(user.pk), "token_form": TokenForm()}
    return render(request, "club/account.html", context)


@who_may(SIGNED_IN)
@require_POST
def add_token(request: HttpRequest) -> HttpResponse:
    """Make a token; this page is the only place where it can be read."""
    form = TokenForm(request.POST)
    if form.done_by(actions.make_token, user_id=request.actor.user_id):
        return render(request, "club/token.html", {"token": form.result})
    user = queries.own_account(request.actor)
    context = {"form": AccountForm(initial={"name": user.name, "pace_m": user.pace_m}), "token_form": form}
    return render(request, "club/account.html", {**context, "tokens": queries.tokens_of(user.pk)})


@who_may(SIGNED_IN)
@require_POST
def end_token(request: HttpRequest, beginning: str) -> HttpResponse:
    def end() -> None:
        if not actions.end_token(user_id=request.actor.user_id, beginning=beginning):
            raise Http404

    return do(request, _("The token works no more."), "club:account", action=end)
