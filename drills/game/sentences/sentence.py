"""A sentence as data: the key of its wording in the catalogue, and the parts that fill it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Sentence:
    """What is to be said. The wording stands in the catalogue; a part is a number, a text, a sentence or a list of these."""

    key: str
    parts: Mapping[str, Part] = field(default_factory=dict, hash=False)


Part = int | float | str | Sentence | tuple[int | float | str | Sentence, ...]


class SaidError(ValueError):
    """An error that a coach reads: a sentence, which is put in plain English where nobody translates it."""

    def __init__(self, sentence: Sentence) -> None:
        super().__init__(sentence)
        self.sentence = sentence

    def __str__(self) -> str:
        from drills.game.sentences.rendering import text_of

        return text_of(self.sentence)
