"""What people and programs send, read in one way: numbers, days, weeks, times, ids, texts and JSON.

Readers take any value and return None for what can't be read; the caller says so beside the field. Only `json_value`
raises, since there the reason differs. Nothing here knows a framework, so the pure packages may use it.
"""

import json
import math
import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from itertools import islice
from typing import Any
from uuid import UUID

from club.letters import TURNING
from club.limits import AS_TYPED, DEEPEST, LINE, LOADED, MOST_DIGITS, NUMBER, VERSION, YEARS

# ASCII digits alone: `²` is a digit to `str.isdigit`, and `٣` one to `int`. Every pattern is bounded and linear.
_WHOLE = re.compile(r"[+-]?[0-9]{1,18}")
_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,18}(?:[.,][0-9]{0,18})?|[.,][0-9]{1,18})")
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_DAY_FIRST = re.compile(r"([0-9]{1,2})[./]([0-9]{1,2})[./]([0-9]{4})")
_WEEK = re.compile(r"([0-9]{4})-W([0-9]{2})")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::[0-9]{2}(?:\.[0-9]{1,6})?)?")
_ID = re.compile(r"[0-9a-fA-F]{8}(?:-?[0-9a-fA-F]{4}){3}-?[0-9a-fA-F]{12}")
# Between two brackets of JSON: strings are stepped over. Possessive, and an open string ends with the text, so it is linear.
_STEP = re.compile(rb'"(?:[^"\\]++|\\.)*+(?:"|\\?\Z)|[\[\]{}]', re.DOTALL)
# A zero and half a pair, which no database keeps; and what nobody sees and turns its neighbours round.
_UNKEEPABLE = re.compile("[\0\ud800-\udfff" + "".join(sorted(TURNING)) + "]")
FURTHEST = timedelta(hours=14)  # from UTC that any place's clock is


class Unreadable(ValueError):
    """JSON that can't be read; the text says why, in English."""


def whole(value: Any, least: int = 0, most: int = NUMBER) -> int | None:
    """A whole number from `least` to `most`: a number, or ASCII digits as typed."""
    if isinstance(value, str):
        found = _short(value, _WHOLE)
        value = int(found[0]) if found else None
    if isinstance(value, bool) or not isinstance(value, int):
        return None
    return value if least <= value <= most else None


def version(value: Any) -> int:
    """The version that a form carries; 0, which nothing ever has, for anything else."""
    return whole(value, 0, VERSION) or 0


def number(value: Any, least: float = -NUMBER, most: float = NUMBER) -> float | None:
    """A number with or without a fraction, after a point or a comma."""
    if isinstance(value, str):
        found = _short(value, _NUMBER)
        value = float(found[0].replace(",", ".")) if found else None
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if least <= value <= most else None  # also None for NaN


def day(value: Any) -> date | None:
    """`2026-03-02`, in years that a club plans."""
    found = _short(value, _DAY)
    if found is None or int(found[1]) not in YEARS:
        return None
    try:
        return date(*map(int, found.groups()))
    except ValueError:
        return None


def day_as_written(value: Any) -> date | None:
    """A day as files have it: `2026-03-02`, or the day first: `2.3.2026`, `2/3/2026`."""
    found = _short(value, _DAY_FIRST)
    if found is None:
        return day(value)
    return day(f"{found[3]}-{int(found[2]):02}-{int(found[1]):02}")


def monday(value: Any) -> date | None:
    """The Monday of the ISO week `2026-W48`."""
    found = _short(value, _WEEK)
    if found is None or int(found[1]) not in YEARS:
        return None
    try:
        return date.fromisocalendar(int(found[1]), int(found[2]), 1)
    except ValueError:
        return None


def clock(value: Any) -> time | None:
    """`18:00`, to the minute."""
    found = _short(value, _CLOCK)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        return None
    return time(int(found[1]), int(found[2]))


def moment(value: Any) -> datetime | None:
    """A day and a time with its zone, which is at most 14 hours from UTC."""
    if not isinstance(value, str) or len(value) > AS_TYPED:
        return None
    try:
        found = datetime.fromisoformat(value)
    except ValueError:
        return None
    return found if is_moment(found) else None


def is_moment(value: datetime) -> bool:
    """Whether a time has a zone that some place has, in years that a club trains in: no clock or column ends there."""
    away = value.utcoffset()
    return away is not None and abs(away) <= FURTHEST and value.year in YEARS


def outer_id(value: Any) -> UUID | None:
    """An id as it stands in addresses."""
    if isinstance(value, UUID):
        return value
    found = _short(value, _ID)
    return UUID(found[0]) if found else None


def text(value: Any, longest: int = LINE) -> str:
    """A text without what no database keeps, trimmed and cut: for words looked for, and names of choices."""
    return _UNKEEPABLE.sub(" ", value[:longest]).strip() if isinstance(value, str) else ""


def texts(values: Iterable[Any], most: int = 100) -> list[str]:
    """Several of them; more than `most` are left out."""
    return [text(each) for each in islice(values, most)]


def as_typed(value: Any, longest: int = LOADED) -> str:
    """A text as it stands, its edges and its length a matter for the action; cut where no action takes it any more."""
    return _UNKEEPABLE.sub(" ", value[:longest]) if isinstance(value, str) else ""


def is_text(value: str) -> bool:
    """Whether every character can be written: no zero, which no database keeps, no half of a pair, and none that nobody sees
    and that turns the text beside it round."""
    return "\0" not in value and (value.isascii() or _UNKEEPABLE.search(value) is None)


def json_value(raw: bytes, deepest: int = DEEPEST, *, any_number: bool = False) -> Any:
    """JSON with a bound of depth, numbers that a column can hold and texts that can be written. Raises Unreadable.

    `any_number` lets larger ones through as infinite, for whoever judges each value by itself.
    """
    check_depth(raw, deepest)
    try:
        found = json.loads(
            raw.decode("utf-8-sig"),
            parse_constant=_refuse_number,
            parse_int=_any_whole if any_number else _json_whole,
            parse_float=float if any_number else _json_number,
        )
    except ValueError as error:  # also bytes that are not UTF-8
        raise Unreadable(f"Not readable as JSON: {error}") from error
    return found


def check_depth(raw: bytes, deepest: int = DEEPEST) -> None:
    """Raises Unreadable for JSON that is nested deeper. One pass over the bytes, before any parser sees them."""
    if raw.count(b"[") + raw.count(b"{") <= deepest:
        return  # as most bodies are
    depth = 0
    for step in _STEP.finditer(raw):
        first = step[0][0]
        if first in b"[{":
            depth += 1
            if depth > deepest:
                raise Unreadable(f"Nested deeper than {deepest} levels.")
        elif first in b"]}":
            depth -= 1


def unkeepable(value: Any, path: str = "") -> str | None:
    """The path (`grids[0].name`) of the first text or number in plain data that no database keeps; None where all can be kept.

    Recursive: for data whose depth was checked.
    """
    if isinstance(value, str):
        return None if is_text(value) else path
    if isinstance(value, float):
        return None if math.isfinite(value) else path
    if isinstance(value, dict):
        inner = [(each, f"{path}.{name}" if path else str(name)) for name, each in value.items()]
        if not all(is_text(str(name)) for name in value):
            return path
    elif isinstance(value, list):
        inner = [(each, f"{path}[{index}]") for index, each in enumerate(value)]
    else:
        return None
    return next((found for each, where in inner if (found := unkeepable(each, where)) is not None), None)


def _short(value: Any, pattern: re.Pattern[str]) -> re.Match[str] | None:
    """The whole of a short text, blanks around it taken away; the length is asked first."""
    if not isinstance(value, str) or len(value) > AS_TYPED:
        return None
    return pattern.fullmatch(value.strip())


def _json_whole(digits: str) -> int:
    if len(digits) > MOST_DIGITS:
        raise ValueError(f"{digits[:20]}… is larger than any number that can be used here")
    return int(digits)


def _any_whole(digits: str) -> float:
    return int(digits) if len(digits) <= MOST_DIGITS else math.inf


def _json_number(digits: str) -> float:
    found = float(digits)
    return found if math.isfinite(found) else _refuse_number(digits[:20])


def _refuse_number(name: str) -> Any:
    raise ValueError(f"{name} is not a number that can be used here")
