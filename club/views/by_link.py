"""Answers to whoever has a link and no account: nothing may keep their address, list it or pass it on."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

UNLISTED = {
    "X-Robots-Tag": "noindex, nofollow",
    "Referrer-Policy": "no-referrer",
}


def unlisted(response: HttpResponse) -> HttpResponse:
    """The answer with the headers that say so: the address is the secret."""
    for name, value in UNLISTED.items():
        response[name] = value
    return response


def link_over(request: HttpRequest) -> HttpResponse:
    """Never made, deleted, run out, or what it showed is gone: none of them is told apart."""
    return unlisted(render(request, "by_link/over.html", status=404))


def link_too_often(request: HttpRequest) -> HttpResponse:
    """Opened more often than a page is looked at: wait a minute."""
    response = unlisted(render(request, "by_link/too_often.html", status=429))
    response["Retry-After"] = "60"
    return response
