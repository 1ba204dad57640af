"""Home, health and the pages for errors."""

import sys

from django.conf import settings
from django.contrib import messages
from django.db import DatabaseError, connection
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.templatetags.static import static
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bibrack import actions, outages, pages, queries
from bibrack.meanings import CHAPTERS
from bibrack.pages import SCHEMES
from club import queries as club
from club import reading
from club.access import ANYONE, DIRECTOR, STAFF, who_may
from club.errors import Refused
from sessions.pages.pitch import worker_script

PROBLEM = "application/problem+json"
YEAR_S = 60 * 60 * 24 * 365
PAPER = "#f8f5ec"  # as --paper in tokens.css


@who_may(STAFF)
def tonight(request: HttpRequest) -> HttpResponse:
    """What is next for whoever is asking."""
    return render(request, "bibrack/tonight.html", pages.tonight(request.actor))


@who_may(DIRECTOR)
@require_POST
def begin_library(request: HttpRequest) -> HttpResponse:
    """Our drills and ready sessions for a club that has no drills yet."""
    try:
        begun = actions.begin_with_our_library(actor=request.actor)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        said = _(
            "{drills} drills and {ready} ready sessions are yours. Plan a session and begin with one of them."
        )
        messages.success(request, said.format(drills=begun.drills, ready=begun.ready))
    return redirect("tonight")


@who_may(DIRECTOR)
def worked_out(request: HttpRequest) -> HttpResponse:
    """How many of the drills are worked out, for Today to ask while some are not; asked for again by a press."""
    if request.method == "POST":
        actions.work_out_rest(actor=request.actor)
        return redirect("tonight")
    return render(request, "bibrack/worked_out.html", {"working_out": pages.working_out()})


@who_may(ANYONE)
def healthz(request: HttpRequest) -> HttpResponse:
    """Alive, with the database behind it and room to write: what stands in the way is named."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SHOW transaction_read_only")
            takes_writes = cursor.fetchone()[0] == "off"
    except DatabaseError as error:
        return _in_the_way(outages.known(error))
    if outages.disk_is_full():
        return _in_the_way(outages.DISK_FULL)
    if not takes_writes:
        return _in_the_way(outages.READ_ONLY)
    low = (
        {"warning": _("%(mb)d MB of disk are left.") % {"mb": outages.free_mb()}}
        if outages.disk_is_low()
        else {}
    )
    return JsonResponse({"status": "ok", "version": settings.VERSION, **low})


@who_may(ANYONE)
def readyz(request: HttpRequest) -> HttpResponse:
    """Ready for people: migrated, a worker has been heard of, and there is room to write."""
    try:
        readiness = queries.readiness()
    except DatabaseError as error:
        return _in_the_way(outages.known(error))
    if outages.disk_is_full():
        return _in_the_way(outages.DISK_FULL)
    return JsonResponse(readiness, status=200 if readiness["status"] == "ok" else 503)


@who_may(ANYONE)
@require_POST
def scheme(request: HttpRequest) -> HttpResponse:
    """Light, dark, for low sun, or as the device likes; back to where the button was."""
    back = request.headers.get("Referer", "")
    safe = url_has_allowed_host_and_scheme(back, {request.get_host()}, require_https=request.is_secure())
    response = redirect(back if safe else "/")
    chosen = reading.text(request.POST.get("scheme"))
    if chosen in SCHEMES:
        response.set_cookie(
            "scheme", chosen, max_age=YEAR_S, samesite="Lax", secure=settings.SESSION_COOKIE_SECURE
        )
    return response


@who_may(ANYONE)
def manifest(request: HttpRequest) -> HttpResponse:
    """What a phone needs to keep Bibrack on its home screen (W3C, Web Application Manifest)."""
    icons = [("icon-192.png", "192x192", "any"), ("icon-512.png", "512x512", "any")]
    icons.append(("icon-maskable-512.png", "512x512", "maskable"))
    body = {
        "id": "/",
        "name": f"{club.club_settings().name} · Bibrack",
        "short_name": "Bibrack",
        "start_url": "/",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": PAPER,
        "icons": [
            {"src": static(f"bibrack/{name}"), "sizes": size, "type": "image/png", "purpose": purpose}
            for name, size, purpose in icons
        ],
    }
    return JsonResponse(body, content_type="application/manifest+json")


@who_may(ANYONE)
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker. At the root, since it stands before every page; asked for anew by browsers each time."""
    return HttpResponse(worker_script(), content_type="text/javascript")


@who_may(ANYONE)
def words(request: HttpRequest) -> HttpResponse:
    """What the words mean. For anybody: a sheet on paper, too, lies in hands without an account."""
    return render(request, "bibrack/words.html", {"chapters": CHAPTERS})


@who_may(ANYONE)
def styleguide(request: HttpRequest) -> HttpResponse:
    """Each component once. For whoever works on the looks; not on a club's own server."""
    if not settings.SHOW_STYLEGUIDE:
        raise Http404
    return render(request, "styleguide.html")


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return _error(request, 400, _("This request can't be read."))


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return _error(request, 403, _("Your role doesn't include this."))


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return _error(request, 404, _("There is nothing here, or not for you."))


def conflict(request: HttpRequest, detail: str) -> HttpResponse:
    return _error(request, 409, detail)


def server_error(request: HttpRequest) -> HttpResponse:
    """Something broke; when it is the database or the disk, say which, and what helps."""
    error = sys.exc_info()[1]
    outage = outages.note(error) if error is not None else None
    if outage is not None:
        return _again(outage, _error(request, outage.status, str(outage.words)))
    return _error(request, 500, _("Something broke on our side. It has been written to the log."))


def _in_the_way(outage: outages.Outage) -> HttpResponse:
    return _again(outage, _problem(outage.status, str(outage.words)))


def _again(outage: outages.Outage, response: HttpResponse) -> HttpResponse:
    """Say when asking again may help."""
    if outage.retry_s is not None:
        response["Retry-After"] = str(outage.retry_s)
    return response


def _error(request: HttpRequest, status: int, detail: str) -> HttpResponse:
    if request.path.startswith("/api/"):
        return _problem(status, detail)
    # An error page must not need what may just have failed: no request, so no queries for name or roles.
    context = {"detail": detail} if status >= 500 else {"detail": detail, "request": request}
    return render(None if status >= 500 else request, f"{status}.html", context, status=status)


def _problem(status: int, detail: str) -> HttpResponse:
    body = {
        "type": "about:blank",
        "title": HttpResponse(status=status).reason_phrase,
        "status": status,
        "detail": detail,
    }
    return JsonResponse(body, status=status, content_type=PROBLEM)
