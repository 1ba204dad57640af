"""Reasons as data: pages translate by key and parameters, the words are those of a sentence in the catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from drills.game.wording.rendering import Plural, Translate, text_of
from drills.game.wording.shapes import Sentence

ChangeClass = Literal["space", "task", "equipment", "people"]
Weight = Literal["change", "warning", "refusal"]
Parameter = int | float | str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a set-up is as it is (change), what to watch (warning), or why none is possible (refusal)."""

    key: str
    sentence: Sentence
    change_class: ChangeClass
    params: Mapping[str, Parameter] = field(default_factory=dict)
    weight: Weight = "change"

    @property
    def text(self) -> str:
        """The sentence in plain English."""
        return text_of(self.sentence)

    def said(self, translate: Translate, plural: Plural | None = None) -> str:
        """The sentence in the reader's language."""
        return text_of(self.sentence, translate, plural)
