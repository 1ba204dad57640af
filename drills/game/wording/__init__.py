"""How anything is said to a coach: sentences with a key and parts, one catalogue of wordings, and what puts them together."""

from drills.game.wording.rendering import SaidError, Translate, in_words, joined, number, sentence, text_of
from drills.game.wording.shapes import Part, Sentence

__all__ = [
    "Part",
    "SaidError",
    "Sentence",
    "Translate",
    "in_words",
    "joined",
    "number",
    "sentence",
    "text_of",
]
