"""How a sentence becomes text: forms for one and many, parts as the wording asks for them, translation."""

import pickle

import pytest

from drills.game.wording import SaidError, Sentence, text_of
from drills.game.wording.shapes import CountedWording, entries, ngettext

WORDINGS = entries(
    wholes={
        "rest": CountedWording("n", *ngettext("{n:words} rests", "{n:words} rest")),
        "ask": "how many?",
    },
    parts={
        "size": "{length:size} × {width:size} m",
        "tenth": "{n:tenth}",
        "whole": "{n:whole}",
        "figures": "{n:figures}",
        "plain": "{n}",
        "word": "the {edge:word} edge",
        "list": "{names}",
        "counts": "{names:words}",
        "commas": "{names:commas}",
        "spaces": "{names:spaces}",
        "own": "{text:sentence}",
        "clause": "({text:clause})",
        "points": CountedWording("n", *ngettext("{n} point", "{n} points")),
    },
)


@pytest.mark.parametrize(
    ("said", "text"),
    [
        (Sentence("rest", {"n": 1}), "One rests."),
        (Sentence("rest", {"n": 12}), "Twelve rest."),
        (Sentence("rest", {"n": 13}), "13 rest."),
        (Sentence("ask"), "How many?"),
        (Sentence("size", {"length": 12.0, "width": 12.5}), "12 × 12.5 m"),
        (Sentence("tenth", {"n": 1.96}), "2"),
        (Sentence("tenth", {"n": -0.04}), "0"),
        (Sentence("whole", {"n": 12.6}), "13"),
        (Sentence("figures", {"n": 12.345}), "12.3"),
        (Sentence("plain", {"n": 1.5}), "1.5"),
        (Sentence("list", {"names": ("a", "b", "c")}), "a, b and c"),
        (Sentence("list", {"names": ("a",)}), "a"),
        (Sentence("list", {"names": ()}), ""),
        (Sentence("counts", {"names": (4, 4, 3)}), "four, four and three"),
        (Sentence("commas", {"names": ("a", Sentence("points", {"n": 1}))}), "a, 1 point"),
        (Sentence("spaces", {"names": ("a", "b")}), "a b"),
        (Sentence("own", {"text": " be kind "}), "Be kind."),
        (Sentence("clause", {"text": Sentence("rest", {"n": 2})}), "(Two rest)"),
        (Sentence("plain", {"n": "{braces}"}), "{braces}"),
    ],
)
def test_a_sentence_as_text(said: Sentence, text: str) -> None:
    assert text_of(said, catalogue=WORDINGS) == text


def test_wordings_and_words_of_the_document_are_translated_and_what_a_coach_wrote_is_not() -> None:
    asked: list[str] = []

    def note(text: str) -> str:
        asked.append(text)
        return text.upper() if text == "left" else text

    assert text_of(Sentence("word", {"edge": "left"}), note, catalogue=WORDINGS) == "the LEFT edge"
    assert text_of(Sentence("own", {"text": "left"}), note, catalogue=WORDINGS) == "Left."
    assert asked == ["the {edge:word} edge", "left", "{text:sentence}"]


def test_a_language_with_more_forms_is_told_the_number() -> None:
    def plural(one: str, many: str, count: int) -> str:
        return f"{{n}} {count}:{one}:{many}".format(n="{n}")

    said = Sentence("points", {"n": 5})
    assert text_of(said, plural=plural, catalogue=WORDINGS).startswith("5 5:")
    assert text_of(Sentence("points", {"n": 1.5}), plural=plural, catalogue=WORDINGS).startswith("1.5 2:")


def test_what_is_missing_is_an_error() -> None:
    with pytest.raises(KeyError):
        text_of(Sentence("nowhere"), catalogue=WORDINGS)
    with pytest.raises(KeyError):
        text_of(Sentence("plain"), catalogue=WORDINGS)


def test_an_error_says_its_sentence_also_after_a_journey() -> None:
    error = SaidError(Sentence("numbers_missing"))
    assert str(error) == "the numbers are missing; write for example 5v5+2"
    again = pickle.loads(pickle.dumps(error))
    assert (str(again), again.sentence) == (str(error), error.sentence)
