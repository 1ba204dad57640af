"""The catalogue of planning: each entry can be said, each is used, each code that is named is there."""

import re

import pytest

from drills.game.wording import Sentence, text_of
from sessions.planning.catalogue import CATALOGUE
from tests.wordings import asked, modules, named, parts_of, sample, unused


@pytest.mark.parametrize("code", CATALOGUE)
def test_an_entry_can_be_said(code: str) -> None:
    entry = CATALOGUE[code]
    assert set(parts_of(entry.text).values()) <= {
        "",
        "word",
    }  # numbers come as they are said, shares as words
    for count in (1, 3) if entry.counted else (3,):
        text = text_of(Sentence(code, sample(entry, count)), catalogue=CATALOGUE)
        assert text
        assert not re.search("[{}]", text)


def test_every_entry_is_used() -> None:
    assert unused(CATALOGUE, named(tree for _, tree in modules("sessions"))) == []


def test_every_code_is_in_the_catalogue() -> None:
    missing = [
        f"{path}:{line}: {code.pattern}"
        for path, tree in modules("sessions")
        for line, code in asked(tree, "reason")
        if not any(code.fullmatch(each) for each in CATALOGUE)
    ]
    assert missing == []
