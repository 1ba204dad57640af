"""Nothing that anybody sends ends in a 500, and what the API refuses it refuses with problem details."""

import logging
import os
from typing import Any

import pytest

from tests.fuzz.asking import undone
from tests.fuzz.club import walk_of

pytestmark = pytest.mark.tx
MUCH = int(os.environ.get("FUZZ_MUCH", "1"))
SEED = int(os.environ.get("FUZZ_SEED", "9"))


@pytest.fixture
def quiet(settings: Any) -> Any:
    """No log of what is refused, and no watch for repeated queries, which is a matter of other tests."""
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    logging.disable(logging.CRITICAL)
    yield
    logging.disable(logging.NOTSET)


def test_nothing_that_is_sent_ends_in_a_500(demo_database: str, quiet: None, capsys: Any) -> None:
    with undone():
        walk = walk_of(MUCH, SEED)
        walk.all()
    counts = ", ".join(f"{count} × {status}" for status, count in sorted(walk.tried.items()))
    with capsys.disabled():
        print(
            f"\n{walk.tried.total()} requests at {len(walk.every)} addresses, {len(walk.forms)} forms: {counts}"
        )
    assert not walk.failures, "\n\n".join(f"{cause}\n{where}" for cause, where in walk.failures.items())
