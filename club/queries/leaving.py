"""What is asked before a role ends, somebody leaves or a pitch closes: what would that leave uncovered?

Later rooms answer: they add a function here when the program starts, since this one may not know them.
"""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Leaving:
    """What is about to go, by its inner id; one of the three."""

    role_id: int | None = None
    user_id: int | None = None
    pitch_id: int | None = None


asked: list[Callable[[Leaving], list[str]]] = []


def left_uncovered(leaving: Leaving) -> list[str]:
    """One sentence for each thing that it would leave uncovered."""
    return [words for answer in asked for words in answer(leaving)]
