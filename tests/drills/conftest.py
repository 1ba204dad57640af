"""A few people by role, and drills in each state. Imports wait until Django is there: pure tests load this file too."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from django.test import Client
    from rest_framework.test import APIClient

    from club.models import User
    from drills.models import Drill
    from tests.drills.people import People


@pytest.fixture
def people(db: None) -> People:
    from tests.drills.people import make_people

    return make_people()


@pytest.fixture
def draft(people: People) -> Drill:
    """The coach's draft; its title would leak."""
    from tests.drills.people import make

    return make(people.coach, title="Secret Draft")


@pytest.fixture
def shared(people: People) -> Drill:
    """The coach's drill, sent for review."""
    from drills import actions
    from tests.drills.people import acting, make

    drill = make(people.coach, title="Shared Gates")
    return actions.send_for_review(actor=acting(people.coach), public_id=drill.public_id)


@pytest.fixture
def visitor(people: People) -> Callable[[User | None], Client]:
    from django.test import Client

    def signed_in(user: User | None) -> Client:
        client = Client()
        if user is not None:
            client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
        return client

    return signed_in


@pytest.fixture
def api(people: People) -> Callable[[User | None], APIClient]:
    from rest_framework.test import APIClient

    def signed_in(user: User | None) -> APIClient:
        client = APIClient()
        if user is not None:
            client.force_authenticate(user)
        return client

    return signed_in
