"""A sentence as data, the key of its wording and the parts that fill it; and what a catalogue of wordings holds.

A wording names its parts in braces. A word behind a colon says how a part is spoken (`rendering.py` lists them).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Sentence:
    """What is to be said. The wording stands in the catalogue; a part is a number, a text, a sentence or a list of these."""

    key: str
    parts: Mapping[str, Part] = field(default_factory=dict, hash=False)


Part = int | float | str | Sentence | tuple[int | float | str | Sentence, ...]


def gettext_noop(text: str) -> str:
    """Mark a wording. The tool that collects messages knows the name."""
    return text


def ngettext(one: str, many: str) -> tuple[str, str]:
    """Mark the two wordings of what is counted. The tool that collects messages knows the name."""
    return one, many


@dataclass(frozen=True, slots=True)
class CountedWording:
    """What is said otherwise of one: the part that is counted, and both wordings."""

    part: str
    one: str
    many: str


@dataclass(frozen=True, slots=True)
class Wording:
    """One wording: `one` is said where the part `counted` is 1; `whole` begins with a capital and ends with a full stop."""

    text: str
    one: str = ""
    counted: str = ""
    whole: bool = False


Wordings = Mapping[str, str | CountedWording]


def entries(*, wholes: Wordings | None = None, parts: Wordings | None = None) -> dict[str, Wording]:
    """The entries of one area: whole sentences, and what sentences are put together from. ValueError for a key twice."""
    made = ({key: _entry(words, whole=True) for key, words in (wholes or {}).items()}, parts or {})
    return merged(made[0], {key: _entry(words, whole=False) for key, words in made[1].items()})


def merged(*areas: Mapping[str, Wording]) -> dict[str, Wording]:
    """All areas in one. ValueError for a key that stands in two."""
    found: dict[str, Wording] = {}
    for area in areas:
        twice = found.keys() & area.keys()
        if twice:
            raise ValueError(f"catalogue: {', '.join(sorted(twice))} is there twice")
        found |= area
    return found


def _entry(words: str | CountedWording, *, whole: bool) -> Wording:
    if isinstance(words, CountedWording):
        return Wording(words.many, words.one, words.part, whole)
    return Wording(words, whole=whole)
