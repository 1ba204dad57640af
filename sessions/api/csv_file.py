"""Tables as files of comma-separated values (RFC 4180), safe to open in a spreadsheet."""

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

MEDIA_TYPE = "text/csv"
CONTENT_TYPE = "text/csv; charset=utf-8; header=present"
Value = str | int | float | None
# A spreadsheet takes a cell that begins so for a formula, also behind blanks: OWASP, "CSV Injection"; the wide forms from memory.
_FORMULA = tuple("=+-@\t\r\n＝＋－＠")


def csv_bytes(rows: Iterable[Sequence[Value]]) -> bytes:
    """Rows as UTF-8 with a byte-order mark, by which spreadsheets tell it from older encodings; lines end in CR LF.

    Numbers stand as they are; None is empty. A text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    out = StringIO(newline="")
    csv.writer(out).writerows([_cell(each) for each in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def _cell(value: Value) -> str:
    if not isinstance(value, str):
        return "" if value is None else str(value)
    bare = value.lstrip()
    return f"'{value}" if value.startswith(_FORMULA) or bare.startswith(_FORMULA) else value
