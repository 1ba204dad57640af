"""The page of one form, and what happens after a button: the same everywhere in the club."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club.errors import Refused, Stale
from club.forms import ActionForm
from club.queries.leaving import Leaving, left_uncovered


def form_page(
    request: HttpRequest, form: ActionForm, *, title: Any, verb: Any, back: str, **more: Any
) -> HttpResponse:
    """A page with one form: `back` is the address to leave to without saving."""
    context = {"form": form, "title": title, "verb": verb, "back": back, **more}
    return render(request, "club/form.html", context)


def typed(request: HttpRequest) -> Any:
    """What was typed, or None on the first look at a page."""
    return request.POST if request.method == "POST" else None


def said(request: HttpRequest, words: Any, to: str, *args: Any) -> HttpResponse:
    """Say what was done and go on to a page."""
    messages.success(request, words)
    return redirect(to, *args)


def leaving_page(request: HttpRequest, leaving: Leaving, *, back: str, **words: Any) -> HttpResponse:
    """Asked before something goes that others count on: what it would leave uncovered."""
    context = {"left": left_uncovered(leaving), "back": back, **words}
    return render(request, "club/leaving.html", context)


def do(request: HttpRequest, words: Any, to: str, *args: Any, action: Callable[[], Any]) -> HttpResponse:
    """Run an action that has no form; say what was done, or why not, and go on to a page."""
    try:
        action()
    except Refused as error:
        for each in error.problems:
            messages.error(request, each.text)
    except Stale:
        messages.error(request, _("Somebody else changed this in the meantime. Look again first."))
    else:
        messages.success(request, words)
    return redirect(to, *args)
