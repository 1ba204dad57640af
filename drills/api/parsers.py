"""Files of drills: larger than other bodies, and read one row at a time."""

from collections.abc import Mapping
from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser

from club.errors import Refused
from club.problems import TooLarge
from drills.game.document.exchange import NotAFile, TooManyRows, cut
from drills.validators import LARGEST_IMPORT_BYTES, MOST_IMPORTED


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
