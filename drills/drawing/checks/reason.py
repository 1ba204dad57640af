"""What a check says: the reason as data, and the same in plain English."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from drills.game.wording.rendering import Translate, as_written, spoken, text_of
from drills.game.wording.shapes import Part, Sentence

Severity = Literal["error", "warning"]


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong (`error`) or odd (`warning`). `items` are the keys of what it is about."""

    key: str
    severity: Severity
    sentence: Sentence
    items: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The sentence in plain English."""
        return self.said()

    @property
    def params(self) -> dict[str, str]:
        """What fills the sentence, in plain English."""
        return {name: spoken(part) for name, part in self.sentence.parts.items()}

    def said(self, translate: Translate = as_written) -> str:
        """The sentence in the reader's language."""
        return text_of(self.sentence, translate)


def reason(key: str, severity: Severity, *items: str, **parts: Part) -> Finding:
    """A finding, with the sentence of the catalogue that its key stands for (`check_…`), filled with `parts`."""
    return Finding(key, severity, Sentence(f"check_{key.replace('-', '_')}", parts), items)
