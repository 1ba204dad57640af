"""The page at the pitch speaks in words of the catalogue alone: all that its script asks for are given, none besides."""

import re
from pathlib import Path

from sessions.pages.pitch import data, standing

SCRIPTS = Path(__file__).resolve().parents[3] / "sessions" / "static" / "sessions" / "pitch"
TEXT = "\n".join(path.read_text(encoding="utf-8") for path in sorted(SCRIPTS.glob("*.js")))
# Limits of a player: the script shows the word of whatever the register says.
BY_NAME = {"no_heading", "no_contact", "outside_only"}
# `words.` of something else than the words: an element that shows them.
OF_AN_ELEMENT = {"dataset", "class", "child", "text", "count"}


def given() -> dict[str, str]:
    return (
        data.words()
        | standing.numbers_words()
        | data.words_of_numbers()
        | data.words_of_teams()
        | data.words_of_weather()
    )


def test_what_the_script_asks_for_is_given() -> None:
    asked = set(re.findall(r"\bwords\.([a-z_]+)", TEXT)) - OF_AN_ELEMENT
    assert len(asked) > 40
    assert asked - set(given()) == set()


def test_what_is_given_is_asked_for() -> None:
    assert {key for key in given() if not re.search(rf"\b{key}\b", TEXT)} == BY_NAME
