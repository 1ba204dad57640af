"""Requests made up from the description of the API: none ends in a 500, each answer is what the description says.

GETs of the library alone, a few examples each, always the same ones. schemathesis makes the requests and checks answers.
"""

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from tests.drills.people import People

pytestmark = pytest.mark.django_db
EXAMPLES = 6


@pytest.fixture
def described(people: People, shared: Any) -> Iterator[Any]:
    import schemathesis  # slow to import: only by the worker that comes here
    from django.core import signals
    from django.core.wsgi import get_wsgi_application
    from django.db import close_old_connections

    # As Django's own test client does: the test's transaction is this connection's.
    both = (signals.request_started, signals.request_finished)
    for each in both:
        each.disconnect(close_old_connections)
    schema = schemathesis.openapi.from_wsgi("/api/v1/schema/?format=json", get_wsgi_application())
    yield schema.include(method="GET", path_regex=r"^/api/v1/drills/").exclude(path_regex=r"drawing|export")
    for each in both:
        each.connect(close_old_connections)


def test_no_get_of_the_library_ends_in_an_error(described: Any, people: People, shared: Any) -> None:
    from knox.models import AuthToken
    from schemathesis.checks import not_a_server_error
    from schemathesis.specs.openapi.checks import response_schema_conformance

    _token, secret = AuthToken.objects.create(people.coach)
    headers = {"Authorization": f"Token {secret}"}
    asked: dict[str, int] = {}
    for result in described.get_all_operations():
        operation = result.ok()

        @settings(
            max_examples=EXAMPLES,
            derandomize=True,
            database=None,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def ask(case: Any) -> None:
            if "public_id" in case.path_parameters:
                case.path_parameters["public_id"] = str(shared.public_id)
            response = case.call(headers=headers)
            case.validate_response(response, checks=[not_a_server_error, response_schema_conformance])
            asked[case.operation.path] = asked.get(case.operation.path, 0) + (response.status_code == 200)

        ask()
    assert len(asked) >= 6
    assert sum(count > 0 for count in asked.values()) >= 4, (
        asked
    )  # not refused by the sign-in or for a wrong value each time
