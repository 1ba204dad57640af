"""One request as it comes in, and the answers that the server gives by itself."""

import copy
import json
from typing import Any

from waitress.adjustments import Adjustments
from waitress.parser import HTTPRequestParser
from waitress.task import ErrorTask
from waitress.utilities import Error

from bibrack.web.limits import RequestLimits

# What is said of a request that the site never sees.
SENTENCES = {
    400: "This request can't be read.",
    408: "The request took too long to arrive.",
    413: "This is larger than what can be sent here.",
    431: "The head of this request is too long.",
    501: "This way of sending is not known here.",
    503: "Several large files are being taken in. Try again in a minute.",
}


class Limited(Adjustments):  # type: ignore[misc]
    """The server's settings, with our limits beside them."""

    def __init__(self, limits: RequestLimits, **settings: Any) -> None:
        super().__init__(**settings)
        self.limits = limits

    def with_body_limit(self, most: int) -> "Limited":
        """The same for a request whose body may have so many bytes."""
        found = copy.copy(self)
        found.max_request_body_size = most + 1  # the server refuses what reaches it
        return found


class TooManyLarge(Error):  # type: ignore[misc]
    """503: enough large bodies are on their way in."""

    code = 503
    reason = "Service Unavailable"


class LimitedRequest(HTTPRequestParser):  # type: ignore[misc]
    """A request, with the limit of its own address, and a place among the large ones if it is one."""

    adj: Limited
    completed: bool
    error: Error | None
    has_place = False

    def received(self, data: bytes) -> int:
        """Take bytes in; return how many belong to this request."""
        was_in_head = not self.headers_finished
        consumed: int = super().received(data)
        if was_in_head and self.headers_finished and not self.completed:
            self._ask_for_place()
        if self.error:
            self.expect_continue = False  # nobody is asked to send what is refused
        return consumed

    def parse_header(self, header_plus: bytes) -> None:
        """Read the head; from here on the limit is that of the address. A body of unknown length is a small one."""
        super().parse_header(header_plus)
        small = self.adj.limits.body_bytes
        self.adj = self.adj.with_body_limit(small if self.chunked else self.adj.limits.body_limit(self.path))

    def _ask_for_place(self) -> None:
        limits: RequestLimits = self.adj.limits
        if self.content_length <= limits.body_bytes:
            return
        self.has_place = limits.places.take()
        if not self.has_place:
            self.error, self.completed = TooManyLarge(""), True

    def close(self) -> None:
        """Let go of the body, on disk or in memory, and of the place."""
        super().close()
        if self.has_place:
            self.has_place = False
            self.adj.limits.places.give_back()


class Refusal(ErrorTask):  # type: ignore[misc]
    """The answer to a request that the site never sees: problem details for programs, one sentence for people."""

    def execute(self) -> None:
        """Write it, and end the connection: what else arrives on it belongs to the refused request."""
        code: int = self.request.error.code
        sentence = SENTENCES.get(code, self.request.error.reason)
        body, kind = sentence, "text/plain; charset=utf-8"
        if getattr(self.request, "path", "").startswith("/api/"):
            title = self.request.error.reason
            body = json.dumps({"type": "about:blank", "title": title, "status": code, "detail": sentence})
            kind = "application/problem+json"
        self.status = f"{code} {self.request.error.reason}"
        self.response_headers += [("Content-Type", kind), ("Cache-Control", "no-store")]
        if code == TooManyLarge.code:
            self.response_headers.append(("Retry-After", "60"))
        self.set_close_on_finish()
        encoded = body.encode()
        self.content_length = len(encoded)
        self.write(encoded)
