"""One thing that is wrong with a document, as data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from drills.game.wording.rendering import Translate, as_written, text_of
from drills.game.wording.shapes import Sentence


@dataclass(frozen=True)
class Problem:
    """Where (`field` is a path into the document), what, and whether it stops a save."""

    field: str
    sentence: Sentence
    severity: Literal["error", "hint"] = "error"

    @property
    def text(self) -> str:
        """What is wrong, in plain English."""
        return self.said(as_written)

    def said(self, translate: Translate) -> str:
        """What is wrong, in the reader's language."""
        return text_of(self.sentence, translate)
