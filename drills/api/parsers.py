"""Files of drills: larger than other bodies, and read one row at a time."""

from typing import Any

from rest_framework.exceptions import ParseError

from club.api_parsers import JsonParser
from club.errors import Refused
from drills.game.document.exchange import NotAFile, TooManyRows, cut
from drills.validators import LARGEST_IMPORT_BYTES, MOST_IMPORTED


class ImportParser(JsonParser):
    """A file of drills of at most 20 MiB."""

    most_bytes = LARGEST_IMPORT_BYTES

    def read(self, raw: bytes) -> Any:
        """The file with its rows still unread."""
        try:
            return cut(raw, most_rows=MOST_IMPORTED)
        except TooManyRows as error:
            raise Refused(str(error), "drills") from error
        except NotAFile as error:
            raise ParseError(str(error)) from error
