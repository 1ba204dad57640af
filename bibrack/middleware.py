"""A line per request in the log; text made small for the wire; what nobody on the way may keep."""

import time
import uuid
from collections.abc import Callable
from typing import Any

import structlog
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from pghistory.middleware import HistoryMiddleware

from bibrack.blot import blot

log = structlog.get_logger("bibrack.request")
NOT_KEPT = "private, no-store"
COMPRESSED = ("text/html", "image/svg+xml")
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
