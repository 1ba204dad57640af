"""A word on dusk where something has just been booked; the session's page goes on saying it."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest
from django.utils.translation import gettext, ngettext

from sessions import queries


def warn_of_the_dark(request: HttpRequest, session: Any) -> None:
    for each in queries.in_the_dark(session):
        messages.warning(request, each.said(gettext, ngettext))
