"""A line per request in the log; text made small for the wire; what nobody on the way may keep; the words of an action
that nobody else caught."""

import time
import uuid
from collections.abc import Callable
from typing import Any

import structlog
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from django.utils.translation import gettext as _
from pghistory.middleware import HistoryMiddleware

from bibrack.blot import blot
from bibrack.views import conflict
from club.errors import Refused, Stale
from sessions.pages.pitch import TAKEN_ALONG

log = structlog.get_logger("bibrack.request")
NOT_KEPT = "private, no-store"
COMPRESSED = ("text/html", "image/svg+xml", TAKEN_ALONG)
GetResponse = Callable[[HttpRequest], HttpResponse]


class QueryCounter:
    """Counts statements of one request on the default connection."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, execute: Callable, sql: str, params: object, many: bool, context: dict) -> object:
        self.count += 1
        return execute(sql, params, many, context)


class RequestLog:
    """Give each request an id and log its status, queries and time. Static files are not logged."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request_id = uuid.uuid4().hex[:12]
        counter, began = QueryCounter(), time.perf_counter()
        with (
            structlog.contextvars.bound_contextvars(request_id=request_id),
            connection.execute_wrapper(counter),
        ):
            response = self.get_response(request)
            if not request.path.startswith("/static/"):
                elapsed = round((time.perf_counter() - began) * 1000, 1)
                log.info(
                    "request",
                    method=request.method,
                    route=getattr(request.resolver_match, "route", None),
                    status=response.status_code,
                    queries=counter.count,
                    ms=elapsed,
                )
        response["X-Request-Id"] = request_id
        return response


class SmallText(GZipMiddleware):
    """Compress pages and drawings also where no proxy does it: at the pitch, bytes are seconds.

    Pictures and PDFs are small already. What the API gives keeps its tag: a compressed answer's is weak, and `If-Match` asks
    for a strong one (RFC 9110, 13.1.1).
    """

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        kind = response.get("Content-Type", "").split(";")[0]
        return super().process_response(request, response) if kind in COMPRESSED else response


class Conflicts:
    """A page whose action was refused where no form stands to say so: 409 with the words. The API has its own handler."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Say what stands in the way; None for everything that is nobody's conflict."""
        if isinstance(error, Stale):
            return conflict(request, _("Somebody else changed this in the meantime. Look again first."))
        return conflict(request, str(error)) if isinstance(error, Refused) else None


class NotKept:
    """No browser and no proxy keeps an answer that doesn't say itself how it may be kept: names stand in most of them.

    Static files are answered before this is reached.
    """

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", NOT_KEPT)
        return response


class History(HistoryMiddleware):
    """Beside each change in the history stands the address where it was made, without the secret of a link."""

    def get_context(self, request: HttpRequest) -> dict[str, Any]:
        return {**super().get_context(request), "url": blot(request.path)}
