"""What is uncovered, in a director's words: a slot is without its own coach and pitch, an evening without one that night."""

from datetime import date, time
from types import SimpleNamespace
from typing import Any

import pytest

from sessions.pages.needs import _left
from sessions.queries.uncovered import Uncovered

TUESDAY = date(2026, 3, 3)


class _Slot(SimpleNamespace):
    def __str__(self) -> str:
        return "Tuesday 18:00"


@pytest.mark.parametrize(
    ("lacks", "evening", "slot"),
    [
        ("lead", "nobody leads", "weekly slot without a coach"),
        ("place", "no pitch", "weekly slot without a pitch"),
        ("second", "one adult left", "one adult left"),
    ],
)
def test_each_lack_has_its_words(lacks: str, evening: str, slot: str) -> None:
    squad: Any = SimpleNamespace(name="Otters")
    session = SimpleNamespace(
        squad=squad, age_group=SimpleNamespace(label="U12"), day=TUESDAY, starts=time(18)
    )
    assert _left(Uncovered(session, lacks)) == f"U12 Otters, Tue 3 Mar 18:00: {evening}"
    assert _left(Uncovered(_Slot(squad=squad), lacks, is_slot=True)) == f"Otters, Tuesday 18:00: {slot}"
