"""By the code on the sheet: tonight's session without an account; with the coach's number its clock, and a count of heads."""

from collections.abc import Callable
from functools import partial, wraps
from typing import Any
from uuid import UUID

import msgspec
from allauth.account.adapter import get_adapter
from django.conf import settings
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe
from rest_framework.exceptions import APIException

from club import lasting, reading
from club import queries as club
from club.access import ANYONE, COACHES, who_may
from club.api_parsers import EventParser
from club.errors import Refused
from club.limits import LINE
from club.views.by_link import link_over, link_too_often, unlisted
from sessions import access, actions, pages
from sessions.api.events import outcomes_told, read_batch
from sessions.pages import pitch
from sessions.queries import helping

PASS = "bibrack_helper"
MOST_SENDINGS = 120  # of one phone in a minute

View = Callable[[HttpRequest, str, Any], HttpResponse]


def by_code(view: View, *, to_send: bool = False) -> Callable[[HttpRequest, str], HttpResponse]:
    """Give a view the session that a code opens, or to which a phone still sends; what never was and what is over are answered
    alike, and nobody lists it.

    A browser that sends a form from a page without any referrer calls its origin `null`, which the check for forgery refuses:
    so the address goes to this site alone.
    """

    @wraps(view)
    def opened(request: HttpRequest, secret: str) -> HttpResponse:
        try:
            response = unlisted(view(request, secret, helping.session_of_code(secret, to_send=to_send)))
        except Http404:
            response = link_over(request)
        response["Referrer-Policy"] = "same-origin"
        return response

    return opened


@who_may(ANYONE)
@require_safe
@by_code
def at(request: HttpRequest, code: str, session: Any) -> HttpResponse:
    """The session as a link shows it, and the way to its clock; staff of the age group go straight to theirs."""
    if request.actor.works_with(session.age_group_id):
        return redirect("sessions:pitch", session.public_id)
    if club.asked_too_often(code):
        return link_too_often(request)
    if _phone(request, session):
        return redirect("sessions:at-run", code)
    return _opened(request, code, session)


@who_may(ANYONE)
@require_POST
@by_code
def number(request: HttpRequest, code: str, session: Any) -> HttpResponse:
    """The number that the coach told: right, and this phone holds a pass for this session alone."""
    if not helping.takes_number(session):
        return redirect("sessions:at", code)
    if club.asked_too_often(code):
        return link_too_often(request)
    given = "".join(reading.text(request.POST.get("number"), LINE).split())
    found = actions.let_in(session=session, number=given, address=get_adapter().get_client_ip(request))
    if found.too_often:
        problem = _("Too many wrong numbers. Wait {while_}, then ask the coach once more.")
        problem = problem.format(while_=lasting.in_words(lasting.WRONG_GUESSES))
        return _opened(request, code, session, typed=given, problem=problem, status=429)
    if not found.pass_:
        problem = _("That is not tonight's number. Ask the coach, then type its four digits.")
        return _opened(request, code, session, typed=given, problem=problem, status=400)
    response = redirect("sessions:at-run", code)
    response.set_cookie(
        PASS,
        found.pass_,
        max_age=helping.sends_until(session) - timezone.now(),
        path=reverse("sessions:at", args=[code]),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return response


@who_may(ANYONE)
@require_safe
@ensure_csrf_cookie
@by_code
def run(request: HttpRequest, code: str, session: Any) -> HttpResponse:
    """The page at the pitch without names: the clock, and a count of heads."""
    own = _phone(request, session)
    if not own:
        return redirect("sessions:at", code)
    # By phone: whoever keeps opening the sheet's code keeps nobody from the clock.
    if club.asked_too_often(f"helper's page {own} {code}"):
        return link_too_often(request)
    shown = pitch.pitch_page(session)
    about = pitch.about_for_helpers(session, code)
    data = pitch.helpers_data(shown, helping.happened_for_helpers(session))
    return render(
        request,
        "sessions/pitch/page.html",
        {"shown": shown, "data": data, "about": about, "helper": True, "code": code},
    )


@who_may(ANYONE)
@require_safe
@partial(by_code, to_send=True)
def phone(request: HttpRequest, code: str, session: Any) -> HttpResponse:
    """Whether this phone still has its pass, with a token of now: the page's may be too old to send with."""
    account = pitch.helpers_account(session) if _phone(request, session) else None
    return JsonResponse({"account": account, "token": get_token(request)} if account else {"account": None})


@who_may(ANYONE)
@require_POST
@partial(by_code, to_send=True)
def events(request: HttpRequest, code: str, session: Any) -> HttpResponse:
    """What a helper's phone sends, answered like the staff's; without a pass 403, and the phone keeps it."""
    own = _phone(request, session)
    if not own:
        return _problem(403, _("Type the coach's number again."))
    if club.asked_too_often(f"helper's events {own} {code}", most=MOST_SENDINGS):
        return _problem(429, _("Wait a minute, then send the rest."))
    try:
        batch = read_batch(EventParser().parse(request))
        outcomes = actions.append_as_helper(
            session=session, phone=own, events=batch["events"], phone_now=batch["now"]
        )
    except Refused as refused:
        return _problem(400, str(refused))
    except APIException as error:
        return _problem(error.status_code, str(error.detail))
    news = helping.happened_for_helpers(session, batch["since"] or 0, but=[each.id for each in outcomes])
    told = outcomes_told(outcomes, news, None if batch["since"] is None else session)
    return HttpResponse(msgspec.json.encode(told), content_type="application/json")


@who_may(COACHES)
@require_POST
def another_number(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The coach's own: the number before opens nothing any more, nor do phones that came in by it."""
    session = access.session_for_planning(request.actor, public_id)
    actions.another_number(session=session)
    messages.success(request, _("There is another number. The one before opens nothing any more."))
    return redirect(reverse("sessions:session", args=[public_id]) + "#helper")


def _phone(request: HttpRequest, session: Any) -> str:
    """The name of the phone whose pass this is; empty without one for this session and this number."""
    return helping.phone_of(session, request.COOKIES.get(PASS, ""))


def _opened(
    request: HttpRequest, code: str, session: Any, *, typed: str = "", problem: str = "", status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {
        "shown": pages.shared_session(session),
        "club": None,  # its name tells where
        "code": code,
        "typed": typed,
        "problem": problem,
        "takes_number": helping.takes_number(session),
        "is_cancelled": pitch.helpers_number(session) is None,  # it is open, or it would not come here
    }
    response = render(request, "sessions/helping/open.html", context, status=status)
    if status == 429:
        response["Retry-After"] = str(int(lasting.WRONG_GUESSES.total_seconds()))
    return response


def _problem(status: int, detail: str) -> HttpResponse:
    return JsonResponse({"detail": detail}, status=status)
