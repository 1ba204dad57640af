"""A calendar as programs read it: no account, the address is the secret."""

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response
from django.utils.http import http_date
from django.views.decorators.http import require_safe

from club import queries as club
from club.access import ANYONE, who_may
from club.views.by_link import link_over, link_too_often, unlisted
from sessions import actions, pages, queries


@who_may(ANYONE)
@require_safe
def calendar(request: HttpRequest, secret: str) -> HttpResponse:
    """RFC 5545; 304 where a program has this very answer. No person's name but the coach's where it was switched on."""
    try:
        link = queries.calendar_of_secret(secret)
    except Http404:
        return link_over(request)
    if club.asked_too_often(secret):
        return link_too_often(request)
    shown = pages.calendar_shown(link, site=request.build_absolute_uri("/"))
    since = int(actions.note_reading(link=link, sha256=shown.sha256).answer_since.timestamp())
    tag = f'"{shown.sha256[:32]}"'
    same = get_conditional_response(request, etag=tag, last_modified=since)
    answer = same or HttpResponse(shown.as_ics(), content_type="text/calendar; charset=utf-8")
    answer["ETag"], answer["Last-Modified"] = tag, http_date(since)
    answer["Cache-Control"] = "private, no-cache"
    return unlisted(answer)
