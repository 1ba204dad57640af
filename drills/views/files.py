"""Drills as files: take the library or one drill along, and bring drills in."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST
from rest_framework.exceptions import APIException

from club.access import COACHES, STAFF, who_may
from club.errors import Refused
from club.problems import TooLarge
from drills import access, actions, pages, queries
from drills.api.parsers import ImportParser


@who_may(STAFF)
def files(request: HttpRequest) -> HttpResponse:
    """The page for both ways."""
    return _page(request)


@who_may(COACHES)
@require_POST
def bring_in(request: HttpRequest) -> HttpResponse:
    """Take the drills of a file; what became of each row is shown, and a refused row leaves nothing behind."""
    sent = request.FILES.get("file")
    if sent is None:
        return _page(request, wrong=_("Choose a file first."))
    try:
        rows = actions.import_drills(actor=request.actor, data=ImportParser().parse(sent))
    except TooLarge:
        megabytes = ImportParser.most_bytes // 1024**2
        return _page(request, wrong=_("The file is larger than {n} MB.").format(n=megabytes))
    except APIException as error:
        return _page(
            request, wrong=_("This is no file of drills, or it was damaged on its way."), detail=error
        )
    except Refused as error:
        return _page(request, wrong=" ".join(each.text for each in error.problems))
    counts = {
        outcome: sum(each.outcome == outcome for each in rows)
        for outcome in ("created", "duplicate", "refused")
    }
    return _page(request, outcomes=pages.outcomes(rows), counts=counts, name=sent.name)


@who_may(STAFF)
def download_drill(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """One drill as a file."""
    name, text = pages.file_of(queries.document_for(request.actor, public_id))
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(text, content_type="application/json", headers=headers)


def _page(request: HttpRequest, **more: Any) -> HttpResponse:
    return render(
        request, "drills/library/files.html", {"may_write": access.may_write(request.actor), **more}
    )
