"""Nothing that anybody sends ends in a 500, and what the API refuses it refuses with problem details."""

import logging
import os
from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
from django.test import override_settings

from tests.fuzz.asking import undone
from tests.fuzz.club import walk_of
from tests.fuzz.long_texts import Measure
from tests.fuzz.walk import Walk
from tests.harness.templates import pointed_at, run

pytestmark = pytest.mark.sweep
MUCH = int(os.environ.get("FUZZ_MUCH", "1"))
SEED = int(os.environ.get("FUZZ_SEED", "9"))


@pytest.fixture(scope="module")
def walk(demo_template: str, django_db_blocker: Any) -> Iterator[Walk]:
    """In a copy of the demo club. No log of what is refused; repeated queries are watched for by other tests."""
    from django.conf import settings

    name = f"walked_{uuid4().hex[:12]}"
    run("CREATE DATABASE {} TEMPLATE {}", name, demo_template)
    plain = override_settings(MIDDLEWARE=[each for each in settings.MIDDLEWARE if "zeal" not in each])
    logging.disable(logging.CRITICAL)
    with plain, django_db_blocker.unblock(), pointed_at(name), undone():
        made = walk_of(MUCH, SEED)
        made.pages()
        yield made
    logging.disable(logging.NOTSET)
    run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)


def nothing_failed(walk: Walk) -> None:
    told = [f"{cause}\n{where}" for cause, where in walk.failures.items()]
    for each in walk.askers:
        each.failures.clear()
    assert not told, "\n\n".join(told)


def test_nothing_that_is_sent_ends_in_a_500(walk: Walk, capsys: Any) -> None:
    walk.all()
    counts = ", ".join(f"{count} × {status}" for status, count in sorted(walk.tried.items()))
    with capsys.disabled():
        print(
            f"\n{walk.tried.total()} requests at {len(walk.every)} addresses, {len(walk.forms)} forms: {counts}"
        )
    nothing_failed(walk)


def test_a_long_text_costs_what_its_length_costs(walk: Walk, capsys: Any) -> None:
    measured = Measure(walk)
    measured.forms()
    measured.bodies()
    with capsys.disabled():
        print(
            f"\n{measured.tried} requests with long texts; the worst cost {measured.worst:.1f} × its short one"
        )
    assert measured.slow == []
    nothing_failed(walk)
