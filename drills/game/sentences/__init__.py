"""What a document says, in sentences."""

from drills.game.sentences.changes import say_change
from drills.game.sentences.rules import RuleSentence, rules_of
from drills.game.sentences.said import Names, goal_name, say, say_ends, say_grid, say_phase, say_restart

__all__ = [
    "Names",
    "RuleSentence",
    "goal_name",
    "rules_of",
    "say",
    "say_change",
    "say_ends",
    "say_grid",
    "say_phase",
    "say_restart",
]
