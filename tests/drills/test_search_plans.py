"""What the database does for a search: each is answered from indexes, none has to read a whole table.

Small tables are read whole because that is cheaper; with that switched off the planner shows whether it could do without.
"""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from django.db import connection, transaction
from django.db.models import QuerySet
from django.test.utils import CaptureQueriesContext

from drills import queries
from drills.models import Drill
from tests.drills.people import People, acting, make

pytestmark = pytest.mark.django_db
SMALL = {"drills_gridkit", "club_theme", "club_kitstock", "club_bibstock", "club_user"}
EVENING = {"players": 12, "length": 30, "width": 20}


def nodes(plan: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield plan
    for inner in plan.get("Plans", []):
        yield from nodes(inner)


def read_whole(asked: QuerySet[Any] | str) -> set[str]:
    """The tables of the library that a query has to read from end to end."""
    sql, params = (asked, None) if isinstance(asked, str) else asked.query.sql_with_params()
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET LOCAL enable_seqscan = off")
        cursor.execute(f"EXPLAIN (FORMAT JSON) {sql}", params)
        answer = cursor.fetchone()[0]
    plan = (json.loads(answer) if isinstance(answer, str) else answer)[0]["Plan"]
    return {each["Relation Name"] for each in nodes(plan) if each["Node Type"] == "Seq Scan"} - SMALL


@pytest.fixture
def shelf(people: People) -> People:
    for number in range(3):
        make(people.coach, title=f"Gates {number}", praise="first time")
    return people


@pytest.mark.parametrize(
    "params",
    [
        {},
        EVENING,
        {**EVENING, "keepers": 1},
        {**EVENING, "effort_max": 6, "minutes": 20},
        {**EVENING, "kit": "4 mini goals"},
        {"theme": "keep-the-ball"},
        {"q": "first time"},
        {"q": "first time", **EVENING},
        {"state": "club standard"},
        {"favourite": "1"},
        {"effort_max": 6, "theme": "keep-the-ball", "q": "first time"},
    ],
)
def test_no_search_has_to_read_a_table_from_end_to_end(params: dict[str, Any], shelf: People) -> None:
    wanted, wrong = queries.parse_search(params)
    assert wrong == []
    with CaptureQueriesContext(connection) as asked:
        found, _facets = queries.hits_and_facets(acting(shelf.coach), wanted)
        assert len(found[:12]) <= 3
    assert [each for each in asked if read_whole(each["sql"])] == []
    assert read_whole(queries.search(acting(shelf.coach), wanted)[:12]) == set()


def test_the_check_sees_a_table_that_is_read_whole(shelf: People) -> None:
    assert read_whole(Drill.objects.filter(purpose__endswith="hunter").order_by()) == {"drills_drill"}
