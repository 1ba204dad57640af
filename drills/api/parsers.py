"""JSON bodies with a limit of size and depth, and no number that isn't one."""

import json
from collections.abc import Mapping
from typing import Any

from rest_framework import status
from rest_framework.exceptions import APIException, ParseError
from rest_framework.parsers import BaseParser

from club.errors import Refused
from drills.game.document.exchange import DEEPEST, NotAFile, TooManyRows, cut
from drills.validators import LARGEST_IMPORT_BYTES, MOST_IMPORTED


class TooLarge(APIException):
    status_code = status.HTTP_413_REQUEST_ENTITY_TOO_LARGE
    default_detail = "The body is too large."


class DocumentParser(BaseParser):
    """JSON of at most 1 MiB."""

    media_type = "application/json"
    most_bytes = 1024 * 1024

    def parse(
        self, stream: Any, media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        raw = stream.read(self.most_bytes + 1)
        if len(raw) > self.most_bytes:
            raise TooLarge(f"At most {self.most_bytes} bytes.")
        try:
            data = json.loads(raw, parse_constant=_refuse)
        except RecursionError as error:
            raise ParseError(f"Nested deeper than {DEEPEST} levels.") from error
        except ValueError as error:  # also bytes that are not UTF-8
            raise ParseError(f"Not readable as JSON: {error}") from error
        if _depth(data) > DEEPEST + 3:  # the rows of a file lie a little deeper than one document
            raise ParseError(f"Nested deeper than {DEEPEST} levels.")
        return data


class ImportParser(BaseParser):
    """A file of drills of at most 20 MiB; its rows are read one at a time."""

    media_type = "application/json"
    most_bytes = LARGEST_IMPORT_BYTES

    def parse(
        self, stream: Any, media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        raw = stream.read(self.most_bytes + 1)
        if len(raw) > self.most_bytes:
            raise TooLarge(f"At most {self.most_bytes} bytes.")
        try:
            return cut(raw, most_rows=MOST_IMPORTED)
        except TooManyRows as error:
            raise Refused(str(error), "drills") from error
        except NotAFile as error:
            raise ParseError(str(error)) from error


def _refuse(name: str) -> Any:
    raise ValueError(f"{name} is not a number that can be used here")


def _depth(data: Any) -> int:
    """How deep the data is nested, without recursion."""
    deepest, waiting = 0, [(data, 1)]
    while waiting:
        value, depth = waiting.pop()
        deepest = max(deepest, depth)
        if deepest > DEEPEST + 3:
            return deepest
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        waiting += [(each, depth + 1) for each in inner if isinstance(each, dict | list)]
    return deepest
