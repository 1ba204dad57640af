"""A file of drills is cut into rows as JSON says (the standard library's reader is the oracle), and never costs more than it is."""

import json
import tracemalloc
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.game.document.exchange import LONGEST_ROW_BYTES, NotAFile, Rows, TooManyRows, cut

scalars = (
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text()
)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)
spaces = st.sampled_from([None, 1, "\t", "\r\n"])


def plain(found: Any) -> Any:
    if isinstance(found, dict):
        return {name: list(each) if isinstance(each, Rows) else each for name, each in found.items()}
    return list(found) if isinstance(found, Rows) else found


@given(
    st.lists(values, max_size=6) | st.dictionaries(st.just("drills") | st.text(), values, max_size=4), spaces
)
def test_it_reads_what_the_standard_library_reads(data: Any, indent: Any) -> None:
    raw = json.dumps(data, indent=indent, ensure_ascii=indent == 1).encode("utf-8", "surrogatepass")
    try:
        expected = json.loads(raw)
    except ValueError:
        return  # half a pair of surrogates, which is no UTF-8
    assert plain(cut(raw, most_rows=100)) == expected


@given(st.text(alphabet='[]{}",:\\ 1a', max_size=14))
def test_it_refuses_what_the_standard_library_refuses(text: str) -> None:
    try:
        expected = json.loads(text)
    except ValueError:
        with pytest.raises(NotAFile):
            cut(text.encode(), most_rows=100)
    else:
        assert plain(cut(text.encode(), most_rows=100)) == expected


@pytest.mark.parametrize(
    "raw", [b"[" * 60 + b"]" * 60, b'{"drills": [' + b"[" * 40, b'{"drills": ' + b'{"a":' * 40]
)
def test_too_deep_is_refused(raw: bytes) -> None:
    with pytest.raises(NotAFile, match="Nested deeper than 32"):
        cut(raw, most_rows=100)


def test_rows_are_bounded_in_number_and_size() -> None:
    assert len(cut(b"[" + b"1," * 99 + b"1]", most_rows=100)) == 100
    with pytest.raises(TooManyRows):
        cut(b"[" + b"1," * 100 + b"1]", most_rows=100)
    with pytest.raises(NotAFile, match="larger than 1 MB"):
        cut(b'[["' + b"x" * LONGEST_ROW_BYTES + b'"]]', most_rows=100)


MEGABYTES = 1
HOSTILE = {
    "brackets": b"[" + b"[]," * (MEGABYTES * 350_000) + b"[]]",
    "braces inside rows": b"[" + (b"[" + b"{}," * 30_000 + b"{}],") * (3 * MEGABYTES) + b"{}]",
    "quotes that never end": b'["' + b'\\"' * (MEGABYTES * 500_000),
    "opening brackets": b"[" * (MEGABYTES * 1_000_000),
    "blanks": b"[" + b" " * (MEGABYTES * 1_000_000),
    "members": b"{" + b",".join(b'"%d":1' % n for n in range(MEGABYTES * 100_000)) + b"}",
}


@pytest.mark.parametrize("raw", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_file_costs_no_more_than_a_row_beside_itself(raw: bytes) -> None:
    tracemalloc.start()
    try:
        cut(raw, most_rows=5000)
    except NotAFile:
        pass
    finally:
        _, peak = tracemalloc.get_traced_memory()
        tracemalloc.stop()
    assert peak < len(raw) + 10 * LONGEST_ROW_BYTES
