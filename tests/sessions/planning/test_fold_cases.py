"""The cases that the phone's fold is held to as well (`tests/browser/test_fold_alike.py`)."""

from typing import Any

import pytest

from tests.sessions.planning.folding_alike import CASES, by_server


@pytest.mark.parametrize("case", CASES, ids=[each["name"][:40] for each in CASES])
def test_the_state_is_what_the_case_says(case: dict[str, Any]) -> None:
    found = by_server(case["events"])
    for name, wanted in case["expect"].items():
        if name == "parts":
            found[name] = {key: each for key, each in found[name].items() if key in wanted}
        assert found[name] == wanted, name
