"""One catalogue words everything: each entry can be said and is used, each key is there, and no sentence stands elsewhere."""

import re
from collections.abc import Iterator
from enum import StrEnum
from typing import get_args

import pytest

from drills.game.document import choices
from drills.game.scene import ClaimKind
from drills.game.scene import Place as Spot
from drills.game.wording import Sentence, text_of
from drills.game.wording.catalogue import CATALOGUE
from drills.game.wording.shapes import entries, merged
from tests.wordings import LISTS, NUMBERS, TEXTS, asked, modules, named, parts_of, prose, sample, unused

PURE = ("drills/game", "drills/drawing")
# Keys that end in a value of the document, and the values.
ENUMERATED: dict[str, type[StrEnum]] = {
    "limit_": choices.LimitKind,
    "when_": choices.WhenKind,
    "then_": choices.ThenKind,
    "after_": choices.RestartAfter,
    "how_": choices.RestartHow,
    "ends_": choices.EndsKind,
    "group_": choices.GroupHome,
    "heading_": choices.Heading,
}
# Texts that are data: the club's words for kit and colours, choices of a design, sources of figures.
DATA = {
    *(each.value for kind in vars(choices).values() if isinstance(kind, type) and issubclass(kind, StrEnum) for each in kind),
    *get_args(ClaimKind),
    "small goal", "end zone",
    "marker cones", "mini goals", "moveable goals",
    "light blue", "no bib",
    "goal, ball out or ball won",  # what a phase ends with where its document does not say
    "Drill document, schema version ",  # the title of the published schema
    "in print",  # when a bib is hatched
}  # fmt: skip
SOURCES = {"drills/game/space.py", "drills/game/pitches.py"}
MARKUP = {"drills/drawing/svg", "drills/drawing/paper"}
LOOKS = {"player side-", "adult coach", "system-ui, -apple-system, 'Segoe UI', Roboto, sans-serif"}


@pytest.mark.parametrize("key", CATALOGUE)
def test_an_entry_can_be_said(key: str) -> None:
    entry = CATALOGUE[key]
    assert set(parts_of(entry.text).values()) | set(parts_of(entry.one).values()) <= NUMBERS | TEXTS | LISTS
    for count in (1, 3) if entry.counted else (3,):
        text = text_of(Sentence(key, sample(entry, count)))
        assert text
        assert not re.search("[{}]", text)
        if entry.whole:
            assert text.endswith((".", "?", "!"))
            assert text[0] == text[0].upper()
            assert not text.endswith("..")


@pytest.mark.parametrize("key", [key for key, entry in CATALOGUE.items() if entry.counted])
def test_one_is_said_otherwise_than_many_and_with_the_same_parts(key: str) -> None:
    entry = CATALOGUE[key]
    assert entry.one != entry.text
    assert parts_of(entry.one).keys() <= parts_of(entry.text).keys()


def test_every_entry_is_used() -> None:
    found = named(tree for _, tree in modules(*PURE))
    checks = {f"check_{each.replace('-', '_')}" for each in _checks()}
    assert unused(CATALOGUE.keys() - checks, found) == []


def test_every_key_is_in_the_catalogue() -> None:
    missing = [
        f"{path}:{line}: {key.pattern}"
        for path, tree in modules(*PURE, "drills/queries", "drills/api")
        for line, key in asked(tree, "Sentence")
        if not any(key.fullmatch(each) for each in CATALOGUE)
    ]
    assert missing == []
    assert {f"check_{each.replace('-', '_')}" for each in _checks()} - CATALOGUE.keys() == set()


def _checks() -> Iterator[str]:
    for _, tree in modules("drills/drawing"):
        yield from (re.sub(r"\\", "", key.pattern) for _, key in asked(tree, "reason"))


def test_every_value_of_a_document_can_be_said() -> None:
    wanted = {f"{start}{each.name.lower()}" for start, kind in ENUMERATED.items() for each in kind}
    wanted |= {f"place_{each}" for each in get_args(Spot)}
    wanted |= {f"claim_{each.replace(' ', '_')}" for each in get_args(ClaimKind)}
    assert wanted - CATALOGUE.keys() == set()


def test_no_sentence_stands_in_the_code() -> None:
    found = [
        f"{path}:{line}: {text}"
        for path, tree in modules(*PURE)
        if path.as_posix() not in SOURCES
        for line, text in prose(tree)
        if text not in DATA | LOOKS and not (path.parent.as_posix() in MARKUP and re.search('[<="]', text))
    ]
    assert found == []


def test_a_key_stands_once() -> None:
    area = entries(parts={"hello": "hello"})
    with pytest.raises(ValueError, match="hello is there twice"):
        merged(area, area)
    with pytest.raises(ValueError, match="hello is there twice"):
        entries(wholes={"hello": "hello"}, parts={"hello": "hello"})
