"""Loading our library in a request: 43 drills are written one by one, each through the action that every drill goes through."""

from typing import Any

import pytest
from zeal import zeal_ignore

from bibrack import actions


@pytest.fixture
def library_in_bulk(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same query for each of many rows is meant here, and here alone."""
    begin = actions.begin_with_our_library

    def one_by_one(**given: Any) -> Any:
        with zeal_ignore():
            return begin(**given)

    monkeypatch.setattr(actions, "begin_with_our_library", one_by_one)
