"""What a phone asks beside its pages: who is signed in, and the shell for times without signal."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token

from club.access import ANYONE, who_may
from sessions.pages.pitch import shell


@who_may(ANYONE)
def phone(request: HttpRequest) -> HttpResponse:
    """Whose account is signed in, with a token of now: a saved page's is too old to send with."""
    account = request.actor.account
    return JsonResponse({"account": account, "token": get_token(request)} if account else {"account": None})


@who_may(ANYONE)
def saved(request: HttpRequest) -> HttpResponse:
    """The shell. It stands in the cache of browsers, so it is the same for everybody."""
    return HttpResponse(shell())
