"""The words that a document's keys stand for, so that a sentence says “reds”, not “A”."""

from __future__ import annotations

from dataclasses import dataclass, field

from drills.game.document.conditions import Limit
from drills.game.document.content import Gate, Goal
from drills.game.document.drill import DrillDocument
from drills.game.wording.rendering import Translate, as_written, number, text_of
from drills.game.wording.shapes import Part, Sentence

EVERYONE = Sentence("everyone")
THE_GRID = Sentence("the_grid")


@dataclass(frozen=True)
class Names:
    """What everything is called in this document, and the language in which it is said."""

    groups: dict[str, str] = field(default_factory=dict)
    zones: dict[str, Part] = field(default_factory=dict)
    goals: dict[str, str] = field(default_factory=dict)
    phases: dict[str, str] = field(default_factory=dict)
    limits: dict[str, Limit] = field(default_factory=dict)
    translate: Translate = as_written

    @classmethod
    def of(cls, document: DrillDocument, translate: Translate = as_written) -> Names:
        """The names used in this document."""
        return cls(
            groups={each.key: each.name for each in document.groups},
            zones={
                **{each.key: gate_name(each) for each in document.gates},
                **{each.key: each.name for each in document.zones},
            },
            goals={each.key: goal_name(each) for each in document.goals},
            phases={each.key: each.name for each in document.phases},
            limits={each.key: each for each in document.conditions if isinstance(each, Limit)},
            translate=translate,
        )

    def group(self, key: str | None) -> Part:
        """A group as part of a sentence; everyone where none is named."""
        return self.groups.get(key, key) if key else EVERYONE

    def place(self, key: str | None) -> Part:
        """A zone or gate as part of a sentence; the grid where none is named."""
        return self.zones.get(key, key) if key else THE_GRID

    def who(self, key: str | None) -> str:
        return self.text(self.group(key))

    def where(self, key: str | None) -> str:
        return self.text(self.place(key))

    def text(self, part: Part) -> str:
        """A part alone, in this language."""
        return text_of(Sentence("own_words", {"text": part}), self.translate)


def goal_name(goal: Goal) -> str:
    """What a goal is called in a sentence: its key with spaces."""
    return goal.key.replace("-", " ").replace("_", " ")


def gate_name(gate: Gate) -> Part:
    """What a gate is called in a sentence: its key, which may say already that it is one."""
    return gate.key if gate.key.startswith("gate") else Sentence("gate_called", {"name": gate.key})


def amount(value: float | None) -> Part:
    """A number as part of a sentence, also where the document has none yet."""
    return number(None) if value is None else value
