"""The evening that the tests of this folder go through."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.core.cache import cache


@pytest.fixture
def evening(world: Any) -> Any:
    from tests.sessions.pitch.evening import make_evening

    return make_evening(world, place=world.own)


@pytest.fixture
def ten_past_six(evening: Any) -> Iterator[Any]:
    """It is ten minutes into the evening, whatever the hour, and nobody has guessed a number yet."""
    cache.clear()
    with time_machine.travel(evening.starts + timedelta(minutes=10), tick=False) as clock:
        yield clock
