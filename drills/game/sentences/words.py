"""The words that sentences are made of: names for keys, numbers, lists.

Pure: the caller passes `translate` (gettext's, say). Templates are marked with `gettext_noop` so that the catalogue
finds them; numbers choose between the singular and the plural template.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from drills.game.document.conditions import Limit
from drills.game.document.content import Goal
from drills.game.document.drill import DrillDocument

Translate = Callable[[str], str]


def gettext_noop(text: str) -> str:
    """Mark a template for the message catalogue."""
    return text


def _plain(text: str) -> str:
    return text


@dataclass(frozen=True)
class Names:
    """The words that a document's keys stand for, so that a sentence says “reds”, not “A”."""

    groups: dict[str, str] = field(default_factory=dict)
    zones: dict[str, str] = field(default_factory=dict)
    goals: dict[str, str] = field(default_factory=dict)
    phases: dict[str, str] = field(default_factory=dict)
    limits: dict[str, Limit] = field(default_factory=dict)
    translate: Translate = _plain

    @classmethod
    def of(cls, document: DrillDocument, translate: Translate = _plain) -> Names:
        """The names used in this document."""
        return cls(
            groups={each.key: each.name for each in document.groups},
            zones={
                **{each.key: f"gate {each.key}".replace("gate gate", "gate") for each in document.gates},
                **{each.key: each.name for each in document.zones},
            },
            goals={each.key: goal_name(each) for each in document.goals},
            phases={each.key: each.name for each in document.phases},
            limits={each.key: each for each in document.conditions if isinstance(each, Limit)},
            translate=translate,
        )

    def fill(self, template: str, **words: Any) -> str:
        return self.translate(template).format(**words)

    def who(self, key: str | None) -> str:
        return self.groups.get(key, key) if key else self.translate(gettext_noop("everyone"))

    def where(self, key: str | None) -> str:
        return self.zones.get(key, key) if key else self.translate(gettext_noop("the grid"))


def number(value: float | None) -> str:
    """A number without a needless decimal: 4.0 is said as 4."""
    if value is None:
        return "?"
    return str(int(value)) if float(value).is_integer() else f"{value:g}"


def goal_name(goal: Goal) -> str:
    """What a goal is called in a sentence: its key with spaces."""
    return goal.key.replace("-", " ").replace("_", " ")


def joined(words: Iterable[str], names: Names | None = None) -> str:
    """`a, b and c`."""
    items = list(words)
    translate = names.translate if names else _plain
    if len(items) < 2:
        return "".join(items)
    return translate(gettext_noop("{first} and {last}")).format(first=", ".join(items[:-1]), last=items[-1])


def sentence(text: str) -> str:
    """First letter large, one full stop at the end."""
    text = text.strip()
    ended = text if text.endswith((".", "!", "?")) else f"{text}."
    return ended[:1].upper() + ended[1:]
