"""What is said to a coach, as sentences with a key and parts, and what a document says in them."""

from drills.game.sentences.changes import say_change
from drills.game.sentences.conditions import say
from drills.game.sentences.names import Names, goal_name
from drills.game.sentences.play import say_ends, say_grid, say_phase, say_restart
from drills.game.sentences.rendering import Translate, in_words, joined, number, sentence, text_of
from drills.game.sentences.sentence import Part, SaidError, Sentence

__all__ = [
    "Names",
    "Part",
    "SaidError",
    "Sentence",
    "Translate",
    "goal_name",
    "in_words",
    "joined",
    "number",
    "say",
    "say_change",
    "say_ends",
    "say_grid",
    "say_phase",
    "say_restart",
    "sentence",
    "text_of",
]
