"""The page at the pitch speaks in words of the catalogue alone: all that its script asks for are given, none besides."""

import re
from pathlib import Path

from sessions.pages.pitch.data import every_word, words_of_heads

SCRIPTS = Path(__file__).resolve().parents[3] / "sessions" / "static" / "sessions" / "pitch"
SAVED = SCRIPTS.parent / "phone" / "saved.js"  # the other scripts there have words of their own pages
TEXT = "\n".join(path.read_text(encoding="utf-8") for path in [*sorted(SCRIPTS.rglob("*.js")), SAVED])
# Limits of a player: the script shows the word of whatever the register says.
BY_NAME = {"no_heading", "no_contact", "outside_only"}
# `words.` of something else than the words: an element that shows them.
OF_AN_ELEMENT = {"dataset", "class", "child", "text", "count"}


def test_what_the_script_asks_for_is_given() -> None:
    asked = set(re.findall(r"\bwords\.([a-z_]+)", TEXT)) - OF_AN_ELEMENT
    assert len(asked) > 40
    assert asked - set(every_word() | words_of_heads()) == set()


def test_what_is_given_is_asked_for() -> None:
    assert {key for key in every_word() | words_of_heads() if not re.search(rf"\b{key}\b", TEXT)} == BY_NAME
