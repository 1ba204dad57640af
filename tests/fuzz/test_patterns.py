"""What looks at a text that somebody typed costs what its length costs: a hundred times the text, at most a hundred times the time."""

import time
from collections.abc import Callable
from contextlib import suppress
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from club import reading
from club.actions.squads import read_player
from club.errors import Refused
from club.validators import match_format
from drills.bridge import words_in
from drills.forms.order import moved
from drills.forms.variations import _bouts, _count, _grid
from drills.game.document import DocumentError, decode
from drills.game.notation import UnclearFormat, read
from drills.pages.files import plainly
from drills.queries import parse_search
from drills.templatetags.drills import together
from sessions.forms.fields import Stretch
from tests.fuzz.long_texts import FILLINGS, LONG, MOST, SHAPES, SHORT

FLOOR_MS = 2.0
READERS = (
    reading.whole,
    reading.number,
    reading.day,
    reading.monday,
    reading.clock,
    reading.moment,
    reading.outer_id,
)
LOOK: dict[str, Callable[[str], Any]] = {
    **{f"reading.{each.__name__}": each for each in READERS},
    "reading.text": reading.text,
    "reading.is_text": reading.is_text,
    "reading.json_value": lambda text: reading.json_value(text.encode()),
    "reading.json_value of an open text": lambda text: reading.json_value(b'{"a": "\\' + text.encode()),
    "reading.json_value of marks": lambda text: reading.json_value((text[0] + '"\\' * len(text)).encode()),
    "players": read_player,
    "a match": match_format,
    "numbers": read,
    "words of a drill": words_in,
    "a row's move": lambda text: moved({"grids-TOTAL_FORMS": text}, text),
    "a variation's grid": lambda text: _grid(text, {}),
    "a variation's bouts": lambda text: _bouts(text, {}),
    "a variation's count": _count,
    "words looked for": lambda text: parse_search({"q": text, "kit": text, "players": text}, ()),
    "a file's problem": plainly,
    "a size on one line": together,
    "a length of time": lambda text: Stretch(required=False).clean(text),
    "a document": decode,
}
REFUSED = (ValueError, ValidationError, Refused, UnclearFormat, DocumentError)


@pytest.mark.parametrize("name", LOOK)
def test_a_look_at_a_long_text_is_one_look(name: str) -> None:
    for shape in SHAPES:
        for filling in (*FILLINGS, "×", "\ud800", "\0", "7 7 "):
            short, long = (
                cost(LOOK[name], shape.format(filling * (n // len(filling)))) for n in (SHORT, LONG)
            )
            assert long <= MOST * max(short, FLOOR_MS), (
                f"{shape!r} {filling!r}: {short:.2f} and {long:.2f} ms"
            )


def test_a_pattern_that_goes_back_and_forth_is_seen() -> None:
    import re

    old = re.compile(r"(?P<name>.*?)(?:[\s,;]+(?P<after>\d{1,3}))?")
    short, long = (cost(old.fullmatch, f"a{' ' * n}b") for n in (60, 6_000))
    assert long > MOST * max(short, FLOOR_MS)


def cost(look: Callable[[str], Any], text: str) -> float:
    """CPU milliseconds of one look."""
    began = time.thread_time()
    with suppress(*REFUSED):
        look(text)
    return (time.thread_time() - began) * 1000
