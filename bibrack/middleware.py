"""A line per request in the log."""

import time
import uuid
from collections.abc import Callable

import structlog
from django.db import connection
from django.http import HttpRequest, HttpResponse

log = structlog.get_logger("bibrack.request")
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
