"""What a document says, as the sentences a coach would say."""

from drills.game.sentences.changes import say_change
from drills.game.sentences.conditions import say
from drills.game.sentences.play import say_ends, say_grid, say_phase, say_restart
from drills.game.sentences.words import Names, Translate, goal_name, joined, number, sentence

__all__ = [
    "Names",
    "Translate",
    "goal_name",
    "joined",
    "number",
    "say",
    "say_change",
    "say_ends",
    "say_grid",
    "say_phase",
    "say_restart",
    "sentence",
]
