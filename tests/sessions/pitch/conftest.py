"""The evening that the tests of this folder go through."""

from typing import Any

import pytest


@pytest.fixture
def evening(world: Any) -> Any:
    from tests.sessions.pitch.evening import make_evening

    return make_evening(world, place=world.own)
