"""Files of comma-separated values: read back by another reader, and no cell that a spreadsheet would work out."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.api.csv_file import csv_bytes


def read(data: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))


@given(st.lists(st.lists(st.text(st.characters(codec="utf-8", exclude_characters="\0")), min_size=1)))
def test_what_is_written_is_read_back_and_nothing_begins_as_a_formula(rows: list[list[str]]) -> None:
    found = read(csv_bytes(rows))
    for row, cells in zip(
        [row for row in rows if row != [""]], [row for row in found if row != [""]], strict=True
    ):
        for value, cell in zip(row, cells, strict=True):
            assert cell in (value, f"'{value}")
            assert not cell.lstrip().startswith(("=", "+", "-", "@"))


@pytest.mark.parametrize("cell", ["=1+1", "+49", "-Ada", "@SUM(A1)", "\t=1", " =1", "＝1", "\r=1"])
def test_a_text_that_a_spreadsheet_would_work_out_is_put_behind_an_apostrophe(cell: str) -> None:
    """OWASP, "CSV Injection": =, +, -, @, tab and carriage return; the wide forms from memory."""
    assert read(csv_bytes([[cell]])) == [[f"'{cell}"]]


def test_lines_end_as_the_format_says_and_numbers_stand_as_they_are() -> None:
    """RFC 4180, section 2: CR LF ends each line, quotes are doubled."""
    assert csv_bytes([["Zoë, B", -3, 4.5, None], ['say "go"']]) == (
        b"\xef\xbb\xbf" + '"Zoë, B",-3,4.5,\r\n"say ""go"""\r\n'.encode()
    )
