"""A file of drills, cut into its rows before anything in it is built: one row at a time is read, so that 20 MB of brackets cost
the 20 MB that they are.

Every step goes through the bytes once (no pattern here looks back). What JSON is, RFC 8259 says; whether a row is, its own
reading decides.
"""

import json
import re
from collections.abc import Iterator, Sequence
from typing import Any

from club.limits import DEEPEST
from drills.game.wording.rendering import SaidError
from drills.game.wording.shapes import Sentence

LONGEST_ROW_BYTES = 1024**2
MOST_MEMBERS = 100  # of the file itself, beside its drills
# The rows of a file lie a little deeper than one document: the file, its list, the row's own object.
_DEEPEST_IN_FILE = DEEPEST + 3
_SPACE = re.compile(rb"[ \t\n\r]*+")
_MARK = re.compile(rb'["\[\]{}]')
_REST_OF_STRING = re.compile(rb'(?:[^"\\]++|\\.)*+"', re.DOTALL)
_SCALAR = re.compile(rb'[^\s,:"\[\]{}]++')


class NotAFile(SaidError):
    """It can't be read as a file of drills; the sentence says why."""


class TooManyRows(NotAFile):
    """More rows than may come in one file."""


class Rows(Sequence[Any]):
    """The rows of a file, each read when it is asked for."""

    def __init__(self, raw: bytes, spans: Sequence[tuple[int, int]]) -> None:
        """`spans`: first and last + 1 byte of each row in `raw`."""
        self._raw, self._spans = raw, spans

    def __len__(self) -> int:
        return len(self._spans)

    def __getitem__(self, place: Any) -> Any:
        """Row `place`, from 0. Raises NotAFile when it is no JSON."""
        return value(self._raw[slice(*self._spans[place])])


def cut(raw: bytes, *, most_rows: int) -> Any:
    """What the file says, its rows as `Rows`: a list, or an object with a list named `drills`; one drill alone is read whole.

    Every row is read once and let go, so that a file which can't be read is known before anything of it is kept.
    Raises NotAFile, and TooManyRows beyond `most_rows`.
    """
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    start = _space(raw, 0)
    if raw[start : start + 1] == b"[":
        rows, end = _rows(raw, start, most_rows)
        _nothing_after(raw, end)
        return rows
    if raw[start : start + 1] == b"{":
        found = _members(raw, start, most_rows)
        return found if isinstance(found.get("drills"), Rows) else _alone(raw)
    return _alone(raw)


def value(raw: bytes) -> Any:
    """The value of some JSON. Raises NotAFile; a number that isn't one (NaN, Infinity) is none."""
    try:
        return json.loads(raw, parse_constant=_refuse)
    except RecursionError as error:
        raise NotAFile(Sentence("file_too_deep", {"most": DEEPEST})) from error
    except ValueError as error:  # also bytes that are not UTF-8, and numbers of thousands of digits
        raise NotAFile(Sentence("file_no_json", {"why": str(error)})) from error


def _refuse(name: str) -> Any:
    raise SaidError(Sentence("file_odd_number", {"name": name}))


def _alone(raw: bytes) -> Any:
    """A file that is one value."""
    end = _end(raw, _space(raw, 0), 0)
    _nothing_after(raw, end)
    return value(raw)


def _rows(raw: bytes, start: int, most: int) -> tuple[Rows, int]:
    """The rows of the list that begins at `start`, and where it ends."""
    spans: list[tuple[int, int]] = []
    for span in _elements(raw, start):
        if len(spans) == most:
            raise TooManyRows(Sentence("file_too_many", {"most": most}))
        spans.append(span)
    rows = Rows(raw, spans)
    for _ in rows:
        pass
    last = spans[-1][1] if spans else start + 1
    return rows, raw.index(b"]", last) + 1


def _elements(raw: bytes, start: int) -> Iterator[tuple[int, int]]:
    """First and last + 1 byte of each element of the list that begins at `start`."""
    position = _space(raw, start + 1)
    if raw[position : position + 1] == b"]":
        return
    while True:
        end = _end(raw, position, 2)
        yield position, end
        position = _space(raw, end)
        mark = raw[position : position + 1]
        if mark == b"]":
            return
        if mark != b",":
            raise NotAFile(_lost(position))
        position = _space(raw, position + 1)


def _members(raw: bytes, start: int, most: int) -> dict[str, Any]:
    """The members of the object that begins at `start`; its `drills`, if they are a list, as `Rows`."""
    found: dict[str, Any] = {}
    position = _space(raw, start + 1)
    while raw[position : position + 1] != b"}":
        end = _end(raw, position, 1)
        name = value(raw[position:end])
        position = _space(raw, end)
        if not isinstance(name, str) or raw[position : position + 1] != b":":
            raise NotAFile(_lost(position))
        position = _space(raw, position + 1)
        if name == "drills" and raw[position : position + 1] == b"[":
            found[name], end = _rows(raw, position, most)
        else:
            end = _end(raw, position, 1)
            found[name] = value(raw[position:end])
        if len(found) > MOST_MEMBERS:
            raise NotAFile(Sentence("file_no_drills"))
        position = _space(raw, end)
        if raw[position : position + 1] == b",":
            position = _space(raw, position + 1)
        elif raw[position : position + 1] != b"}":
            raise NotAFile(_lost(position))
    _nothing_after(raw, position + 1)
    return found


def _end(raw: bytes, start: int, depth: int) -> int:
    """Where the value that begins at `start`, inside `depth` lists and objects, ends."""
    scalar = _SCALAR.match(raw, start)
    if scalar is not None:
        return scalar.end()
    outside, position = depth, start
    while position < min(len(raw), start + LONGEST_ROW_BYTES):
        mark = _MARK.search(raw, position)
        if mark is None:
            break
        position = mark.end()
        if mark[0] == b'"':
            string = _REST_OF_STRING.match(raw, position)
            if string is None:
                break
            position = string.end()
        else:
            depth += 1 if mark[0] in b"[{" else -1
        if depth > _DEEPEST_IN_FILE:
            raise NotAFile(Sentence("file_too_deep", {"most": DEEPEST}))
        if depth <= outside:
            return position
    if position >= start + LONGEST_ROW_BYTES:
        raise NotAFile(Sentence("file_drill_too_large", {"most": LONGEST_ROW_BYTES // 1024**2}))
    raise NotAFile(_lost(start))


def _nothing_after(raw: bytes, position: int) -> None:
    if _space(raw, position) != len(raw):
        raise NotAFile(_lost(position))


def _space(raw: bytes, position: int) -> int:
    """The next position that holds something."""
    found = _SPACE.match(raw, position)
    return found.end() if found else position


def _lost(position: int) -> Sentence:
    return Sentence("file_no_json_at", {"position": position})
