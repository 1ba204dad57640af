"""What the endpoints share: lists, versions (ETag, If-Match), repeated requests (Idempotency-Key), and files."""

import hashlib
from collections.abc import Callable
from functools import wraps
from typing import Any

import msgspec
from django.http import HttpRequest, HttpResponse
from django.http.request import RawPostDataException
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter
from rest_framework.pagination import PageNumberPagination
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from club import actions, reading
from club.api_described import plain
from club.errors import Refused
from club.limits import TITLE, VERSION
from club.problems import Precondition, PreconditionRequired, Unprocessable

IDEMPOTENCY_KEY = OpenApiParameter("Idempotency-Key", str, OpenApiParameter.HEADER)


class Pages(PageNumberPagination):
    """Lists of the API: `count`, `next`, `previous`, `results`."""

    page_size = 25
    page_size_query_param = "page_size"
    max_page_size = 100


PAGING = [
    OpenApiParameter("page", int, description="From 1."),
    OpenApiParameter(
        "page_size", int, description=f"{Pages.page_size} unless said, {Pages.max_page_size} at most."
    ),
]


def paged(view: APIView, request: Request, rows: Any, shape: Callable[[Any], msgspec.Struct]) -> Response:
    """The page of a list that the address asks for, each of its rows in its shape. Described by `Listed`."""
    paging = Pages()
    found: list[Any] | None = paging.paginate_queryset(rows, request, view=view)
    return paging.get_paginated_response([plain(shape(each)) for each in found or []])


def etag(version: int) -> str:
    """The ETag of a version."""
    return f'"v{version}"'


def wanted_version(request: Request) -> int:
    """The version that If-Match names. 428 without the header, 412 when it can't be one of ours."""
    header = request.headers.get("If-Match")
    if header is None:
        raise PreconditionRequired
    text = reading.text(header).removeprefix("W/").strip('"').removeprefix("v")
    found = reading.whole(text, 0, VERSION)
    if found is None:
        raise Precondition
    return found


def sent_json(request: HttpRequest) -> bytes:
    """The bytes that a page's script sent. Raises Refused for a form with files: checking it for forgery has used it up."""
    try:
        return request.body
    except RawPostDataException as error:
        raise Refused(_("Send JSON.")) from error


class FileRenderer(JSONRenderer):
    """For an endpoint whose answer is a file; its problems stay JSON. A subclass names `media_type` and `format`."""

    def render(self, data: Any, accepted_media_type: Any = None, renderer_context: Any = None) -> bytes:
        return super().render(data, "application/json", renderer_context)


def file_answer(
    request: HttpRequest | Request, tag: str, kind: str, make: Callable[[], bytes], **headers: str
) -> HttpResponse:
    """A file under its tag: 304 for whoever has it already, and then it is not made. Words of headers join by `_`.

    Nothing on the way keeps it unless `Cache_Control` says so: people's names may stand in it.
    """
    found = {"ETag": f'"{tag}"', "Cache-Control": headers.pop("Cache_Control", "private, no-store")}
    if request.headers.get("If-None-Match", "").removeprefix("W/") == found["ETag"]:
        return HttpResponse(status=304, headers=found)
    found.update({name.replace("_", "-"): value for name, value in headers.items()})
    return HttpResponse(make(), content_type=kind, headers=found)


def idempotent(handler: Callable[..., Response]) -> Callable[..., Response]:
    """Answer a repeated POST with the same Idempotency-Key as the first time; another body is refused (422)."""

    @wraps(handler)
    def once(self: Any, request: Request, *args: Any, **kwargs: Any) -> Response:
        key = request.headers.get("Idempotency-Key", "")
        if not key:
            return handler(self, request, *args, **kwargs)
        if len(key) > TITLE or not reading.is_text(key):
            raise Unprocessable(
                _("An Idempotency-Key has at most {title} ordinary characters.").format(title=TITLE)
            )
        body = hashlib.sha256(request._request.body).hexdigest()
        kept = actions.answer_once(
            user_id=request.actor.user_id,
            key=key,
            route=request.path,
            body_hash=body,
            make=lambda: _as_kept(handler(self, request, *args, **kwargs)),
        )
        if kept.body_hash != body:
            raise Unprocessable(_("This Idempotency-Key was used for another request."))
        return Response(kept.answer, status=kept.status, headers=kept.headers)

    return once


def _as_kept(response: Response) -> actions.StoredAnswer:
    headers = {name: response[name] for name in ("Location", "ETag") if name in response}
    return actions.StoredAnswer(status=response.status_code, answer=response.data, headers=headers)
