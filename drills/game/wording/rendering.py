"""From a sentence to text: the wording from the catalogue, translated, its parts spoken and put in.

How a part is spoken is a word behind its name in the wording:
`words` three · `size` 12.5, or 12 for 12.0 · `tenth` one decimal at most · `whole` none · `figures` three figures ·
`word` a word of a document, translated as it stands · `sentence` with a capital and a full stop · `clause` without its
full stop. A list is said as "a, b and c", or with `commas`, `semicolons`, `spaces`. Without a word a part stands as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from drills.game.wording.catalogue import CATALOGUE
from drills.game.wording.shapes import Part, Sentence, Wording

Translate = Callable[[str], str]
Plural = Callable[[str, str, int], str]
ENDS = (".", "!", "?")
_NUMBERS = (
    "number_no",
    "number_one",
    "number_two",
    "number_three",
    "number_four",
    "number_five",
    "number_six",
    "number_seven",
    "number_eight",
    "number_nine",
    "number_ten",
    "number_eleven",
    "number_twelve",
)
_JOINTS = {"commas": ", ", "semicolons": "; ", "spaces": " "}


def as_written(text: str) -> str:
    """The text itself: stands for a translation where English is wanted."""
    return text


def text_of(
    said: Sentence,
    translate: Translate = as_written,
    plural: Plural | None = None,
    catalogue: Mapping[str, Wording] = CATALOGUE,
) -> str:
    """The sentence as text. `translate` takes a wording (gettext, say), `plural` those for one and for many (ngettext).

    Raises KeyError for a key or a part that is not there.
    """
    return _Speaker(translate, plural, catalogue).text(said)


def spoken(part: Part, translate: Translate = as_written) -> str:
    """A part alone, as it stands in a sentence."""
    return _Speaker(translate, None, CATALOGUE).spoken(part, "")


class SaidError(ValueError):
    """An error that a coach reads: a sentence, which is put in plain English where nobody translates it."""

    def __init__(self, sentence: Sentence) -> None:
        super().__init__(sentence)
        self.sentence = sentence

    def __str__(self) -> str:
        return self.said(as_written)

    def said(self, translate: Translate) -> str:
        """What is wrong, in the reader's language."""
        return text_of(self.sentence, translate)


class _Speaker:
    """Who says the sentences: in which language, from which catalogue."""

    __slots__ = ("catalogue", "plural", "translate")

    def __init__(self, translate: Translate, plural: Plural | None, catalogue: Mapping[str, Wording]) -> None:
        self.translate, self.plural, self.catalogue = translate, plural, catalogue

    def text(self, said: Sentence) -> str:
        entry = self.catalogue[said.key]
        wording = self._wording(entry, said.parts)
        text = wording.format(**{name: _Spoken(part, self) for name, part in said.parts.items()})
        return sentence(text) if entry.whole else text

    def _wording(self, entry: Wording, parts: Mapping[str, Part]) -> str:
        if not entry.counted:
            return self.translate(entry.text)
        count = parts[entry.counted]
        if self.plural is None:
            return self.translate(entry.one if count == 1 else entry.text)
        return self.plural(entry.one, entry.text, count_of(count))

    def spoken(self, part: Part, how: str) -> str:
        if isinstance(part, tuple):
            if how in _JOINTS:
                return _JOINTS[how].join(self.spoken(each, "") for each in part)
            return joined((self.spoken(each, how) for each in part), self.translate)
        if isinstance(part, Sentence):
            return _finished(self.text(part), how)
        if isinstance(part, str):
            return self.translate(part) if how == "word" else _finished(part, how)
        if how == "words":
            return in_words(int(part), self.translate)
        return _figures(part, how)


class _Spoken:
    """A part that says itself as the wording asks for it."""

    __slots__ = ("part", "speaker")

    def __init__(self, part: Part, speaker: _Speaker) -> None:
        self.part, self.speaker = part, speaker

    def __format__(self, how: str) -> str:
        return self.speaker.spoken(self.part, how)


def count_of(part: Part) -> int:
    """The number that decides between the forms; what is not whole, or no number at all, counts as many."""
    if isinstance(part, int) or (isinstance(part, float) and part.is_integer()):
        return int(part)
    return 2


def _figures(value: float, how: str) -> str:
    if how == "size":
        return number(value)
    if how in ("tenth", "whole"):
        text = f"{value:.1f}".removesuffix(".0") if how == "tenth" else f"{value:.0f}"
        return "0" if text == "-0" else text
    return f"{value:.3g}" if how == "figures" else str(value)


def _finished(text: str, how: str) -> str:
    if how == "sentence":
        return sentence(text)
    return text.rstrip(".") if how == "clause" else text


def number(value: float | None) -> str:
    """A number of any unit without a needless decimal: 4.0 is said as 4, and None as "?"."""
    if value is None:
        return "?"
    return str(int(value)) if float(value).is_integer() else f"{value:g}"


def in_words(count: int, translate: Translate = as_written) -> str:
    """Small counts in words, as one would say them: 3 → three, 13 → 13."""
    return translate(CATALOGUE[_NUMBERS[count]].text) if 0 <= count < len(_NUMBERS) else str(count)


def joined(words: Iterable[str], translate: Translate = as_written) -> str:
    """`a, b and c`."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return translate(CATALOGUE["list"].text).format(first=", ".join(items[:-1]), last=items[-1])


def sentence(text: str) -> str:
    """First letter large, one full stop at the end."""
    text = text.strip()
    ended = text if text.endswith(ENDS) else f"{text}."
    return ended[:1].upper() + ended[1:]
