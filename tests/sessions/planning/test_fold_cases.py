"""The cases that the phone's fold is held to as well (`tests/browser/test_fold_alike.py`)."""

import random
from datetime import timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from sessions.planning.fold import fold, parse_event
from tests.sessions.planning.folding_alike import CASES, PLAN, as_sent, by_server, made_up

HOUR_MS = 3_600_000


@pytest.mark.parametrize("case", CASES, ids=[each["name"][:40] for each in CASES])
def test_the_state_is_what_the_case_says(case: dict[str, Any]) -> None:
    found = by_server(case["events"])
    for name, wanted in case["expect"].items():
        if name == "parts":
            found[name] = {key: each for key, each in found[name].items() if key in wanted}
        assert found[name] == wanted, name
    for name in {"confirmed", "next_time"} - set(case["expect"]):
        assert name not in found, name


@pytest.mark.parametrize("seed", range(40))
def test_phones_whose_clocks_are_wrong_tell_the_same_evening(seed: int) -> None:
    """Whatever happens by whichever phone: only the corrected time counts."""
    chance = random.Random(seed)
    right = [parse_event(each) for each in as_sent(made_up(seed))]
    skews = [chance.choice([0, HOUR_MS, -HOUR_MS, 90_000]) for _ in right]
    wrong = [
        replace(each, at=each.at + timedelta(milliseconds=skew), skew_ms=skew)
        for each, skew in zip(right, skews, strict=True)
    ]
    assert fold(PLAN, wrong) == fold(PLAN, right)
