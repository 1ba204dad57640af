"""Errors of the API as problem details (RFC 9457), with one entry per field."""

from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import exceptions
from rest_framework.renderers import JSONRenderer
from rest_framework.response import Response
from rest_framework.views import exception_handler as rest_handler

from club.api_parsers import TooLarge
from club.errors import AskFirst, Clash, Refused, Stale

CONTENT_TYPE = "application/problem+json"


class Precondition(exceptions.APIException):
    """412: the thing has another version by now."""

    status_code = HTTPStatus.PRECONDITION_FAILED
    default_detail = gettext_lazy("Changed by somebody else in the meantime. Read it again, then save.")


class PreconditionRequired(exceptions.APIException):
    """428: say with If-Match which version you have seen."""

    status_code = HTTPStatus.PRECONDITION_REQUIRED
    default_detail = gettext_lazy("Send If-Match with the ETag that you read.")


class Conflict(exceptions.APIException):
    """409: something else has to be settled first; `members` go into the problem, its address among them (RFC 9457, 3.2)."""

    status_code = HTTPStatus.CONFLICT

    def __init__(self, detail: str, **members: str) -> None:
        super().__init__(detail)
        self.members = members


class Unprocessable(exceptions.APIException):
    """422: understood, but can't be done."""

    status_code = HTTPStatus.UNPROCESSABLE_ENTITY
    default_detail = gettext_lazy("This can't be done.")


class Unavailable(exceptions.APIException):
    """503: can't be done now, but later."""

    status_code = HTTPStatus.SERVICE_UNAVAILABLE
    default_detail = gettext_lazy("This can't be done now. Try again in a minute.")


def handler(error: Exception, context: dict[str, Any]) -> Response | None:
    """Turn any known error into a problem; unknown ones go on to the server's own page for errors."""
    # Always JSON, whatever the endpoint gives when all is well.
    context["request"].accepted_renderer = JSONRenderer()
    context["request"].accepted_media_type = JSONRenderer.media_type
    if isinstance(error, SuspiciousOperation):  # the framework's own limits of a request
        error = TooLarge() if isinstance(error, RequestDataTooBig) else exceptions.ParseError()
    if isinstance(error, Stale):
        error = Precondition()
    if isinstance(error, Refused):
        status = HTTPStatus.CONFLICT if isinstance(error, Clash | AskFirst) else HTTPStatus.BAD_REQUEST
        answer = problem(status, str(error), errors_of_fields(error.by_field()))
        if isinstance(error, AskFirst):
            answer.data["confirm"] = error.token  # what is sent along as a yes
        return answer
    response = rest_handler(error, context)
    if response is None:
        return None
    answer = problem(HTTPStatus(response.status_code), _detail(error), _errors(error))
    if isinstance(error, Conflict):
        answer.data.update(error.members)
    for name, value in response.headers.items():
        if name in ("WWW-Authenticate", "Retry-After", "Allow"):
            answer[name] = value
    return answer


def problem(status: HTTPStatus, detail: str, errors: list[dict[str, str]] | None = None) -> Response:
    """A problem details response."""
    body: dict[str, Any] = {
        "type": "about:blank",
        "title": status.phrase,
        "status": int(status),
        "detail": detail,
    }
    if errors:
        body["errors"] = errors
    return Response(body, status=int(status), content_type=CONTENT_TYPE)


def errors_of_fields(fields: dict[str, list[str]], prefix: str = "") -> list[dict[str, str]]:
    """One entry per field and text, each with a JSON pointer into the request."""
    return [
        {"pointer": f"{prefix}/{_pointer(field)}" if field else prefix or "/", "detail": text}
        for field, texts in fields.items()
        for text in texts
    ]


def _pointer(field: str) -> str:
    return field.replace("[", "/").replace("]", "").replace(".", "/")


def _detail(error: Exception) -> str:
    if isinstance(error, exceptions.ValidationError):
        return _("Some fields need another look.")
    if isinstance(error, Http404):
        return _("There is nothing here, or not for you.")
    if isinstance(error, PermissionDenied):
        return _("Your role doesn't include this.")
    return str(getattr(error, "detail", error))


def _errors(error: Exception) -> list[dict[str, str]]:
    if not isinstance(error, exceptions.ValidationError):
        return []
    return _walk(error.detail, "")


def _walk(detail: Any, pointer: str) -> list[dict[str, str]]:
    if isinstance(detail, dict):
        return [each for name, inner in detail.items() for each in _walk(inner, f"{pointer}/{name}")]
    if isinstance(detail, list):
        nested = any(isinstance(each, dict | list) for each in detail)
        return [
            each
            for index, inner in enumerate(detail)
            for each in _walk(inner, f"{pointer}/{index}" if nested else pointer)
        ]
    return [{"pointer": pointer.removesuffix("/non_field_errors") or "/", "detail": str(detail)}]
