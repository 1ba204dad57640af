"""JSON bodies, read by the one reader: bounded in bytes and depth, no number that no column holds, no text that none keeps.

Loaded by REST framework's own settings, so it imports no views.
"""

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework.exceptions import APIException, ParseError
from rest_framework.parsers import BaseParser

from club import reading
from club.errors import Refused
from club.limits import BODY_BYTES


class TooLarge(APIException):
    """413: more bytes than the endpoint takes."""

    status_code = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
    default_detail = gettext_lazy("The body is too large.")


class JsonParser(BaseParser):
    """JSON of at most 1 MiB."""

    media_type = "application/json"
    most_bytes = BODY_BYTES
    keepable = True  # whether every text and number must be one that a database keeps

    def parse(
        self, stream: Any, media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        raw = stream.read(self.most_bytes + 1)
        if len(raw) > self.most_bytes:
            raise TooLarge(_("At most {most_bytes} bytes.").format(most_bytes=self.most_bytes))
        return self.read(raw)

    def read(self, raw: bytes) -> Any:
        """What the bytes say. Raises ParseError, Refused."""
        try:
            data = reading.json_value(raw, any_number=not self.keepable)
        except reading.Unreadable as error:
            raise ParseError(str(error)) from error
        odd = reading.unkeepable(data) if self.keepable else None
        if odd is not None:
            raise Refused(_("That holds a character that cannot be saved."), odd)
        return data


class EventParser(JsonParser):
    """A batch of events: each is refused by itself, so that a phone gets rid of the others."""

    keepable = False
