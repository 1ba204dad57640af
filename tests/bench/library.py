"""Finding drills: what the library's page asks, at 1,000 and 10,000 drills, and which tables the database reads whole.

The drills are invented (`tests/bench/drills.py`). `python -m pytest -s tests/bench/library.py` alone runs it;
BIBRACK_BENCH_DRILLS names other sizes, as in `BIBRACK_BENCH_DRILLS=100000`. Times are of a second look, as in use.
"""

import json
import logging
import os
import random
import time
from collections import defaultdict
from collections.abc import Iterator
from itertools import chain
from typing import Any

import pytest
from django.core.paginator import Paginator
from django.db import connection
from django.test.utils import CaptureQueriesContext

from club import queries as club
from club.actor import Actor
from drills import pages as drill_pages
from drills import queries
from tests.bench.drills import fill
from tests.drills.people import acting, make_people

SIZES = [int(each) for each in os.environ.get("BIBRACK_BENCH_DRILLS", "1000,10000").split(",")]
EVENINGS = 12
LOOKS = 4
LARGE = {
    "drills_drill", "drills_drillrevision", "drills_variation", "drills_roomneeded", "drills_word", "drills_roomwithkit",
}  # fmt: skip


def searches(rng: random.Random) -> Iterator[tuple[str, dict[str, Any]]]:
    """What a coach asks before an evening, by kind."""
    while True:
        evening = {"players": rng.randint(6, 22), "length": rng.randint(18, 60), "width": rng.randint(15, 45)}
        theme = rng.choice(["press", "finish", "combine"])
        yield "everything", {}
        yield "a theme", {"theme": theme}
        yield "numbers and space", evening
        yield "words", {"q": rng.choice(["press", "keep the ball", "winger", "quarry gate"])}
        yield "a word misspelt", {"q": rng.choice(["gaet", "winnger", "lantren", "presing"])}
        yield "words, numbers and space", {"q": "winger", **evening}
        yield "numbers, space and kit", {**evening, "kit": "4 mini goals, 16 marker cones"}
        yield (
            "all together",
            {**evening, "keepers": 1, "effort_max": 6, "minutes": 20, "theme": theme, "age_group": "U12"},
        )


def page(actor: Actor, params: dict[str, Any], number: int = 1) -> int:
    """What the library's page asks of the database, without putting it into HTML. How many cards."""
    wanted, _wrong = queries.parse_search(params, club.age_groups())
    drills, facets = queries.hits_and_facets(actor, wanted)
    themes = dict(facets.beside["themes"])
    stock = queries.stock_for(wanted, facets.beside.get("stock"))
    shown = Paginator(drills, 12).get_page(number)
    return len([drill_pages.card(drill, wanted, themes, stock) for drill in shown.object_list])


def measure(actor: Actor, size: int) -> set[str]:
    """Print times in milliseconds by kind of search and the most queries; print and return the tables read whole."""
    costs: dict[str, list[float]] = defaultdict(list)
    sql: dict[str, list[float]] = defaultdict(list)
    whole: dict[str, set[str]] = defaultdict(set)
    asked: dict[str, int] = defaultdict(int)
    rng, count = random.Random(7), EVENINGS * 8
    for _, (kind, params) in zip(range(count), searches(rng), strict=False):
        page(actor, params)  # from the second look on: plans drawn, documents read, answers of Fit remembered
        captured, took, in_sql = _fastest(actor, params)
        costs[kind].append(took)
        sql[kind].append(in_sql)
        asked[kind] = max(asked[kind], len(captured))
        if len(costs[kind]) <= 3:
            whole[kind] |= read_whole(captured)
    print(f"{size} drills{'':<26}{'p50 ms':>9}{'p95 ms':>9}{'SQL p95':>9}{'queries':>9}  read whole")
    for kind in costs:
        _row(kind, costs[kind], sql[kind], asked[kind], whole[kind])
    each_cost, each_sql = list(chain(*costs.values())), list(chain(*sql.values()))
    tables = set().union(*whole.values())
    _row("all of them", each_cost, each_sql, max(asked.values()), tables)
    return tables


def _fastest(actor: Actor, params: dict[str, Any]) -> tuple[list[str], float, float]:
    """Statements, milliseconds, and milliseconds of the database, of the fastest of a few looks: other programs run too."""
    looks = []
    for _ in range(LOOKS):
        with CaptureQueriesContext(connection) as captured:
            start = time.perf_counter()
            page(actor, params)
            took = (time.perf_counter() - start) * 1000
        looks.append((took, sum(float(each["time"]) for each in captured) * 1000))
    return [each["sql"] for each in captured], min(looks)[0], min(sql for _, sql in looks)


def _row(kind: str, costs: list[float], sql: list[float], asked: int, whole: set[str]) -> None:
    tables = ", ".join(sorted(whole)) or "none"
    print(
        f"{kind:<34}{_at(costs, 0.5):>9.1f}{_at(costs, 0.95):>9.1f}{_at(sql, 0.95):>9.1f}{asked:>9}  {tables}"
    )


def read_whole(statements: list[str]) -> set[str]:
    """Large tables that the database reads from end to end for these, left to its own judgement."""
    found: set[str] = set()
    for statement in statements:
        with connection.cursor() as cursor:
            cursor.execute(f"EXPLAIN (FORMAT JSON) {statement}")
            answer = cursor.fetchone()[0]
        plan = (json.loads(answer) if isinstance(answer, str) else answer)[0]["Plan"]
        found |= {each["Relation Name"] for each in _nodes(plan) if each["Node Type"] == "Seq Scan"}
    return found & LARGE


def _nodes(plan: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield plan
    for inner in plan.get("Plans", []):
        yield from _nodes(inner)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("size", SIZES)
def test_library(size: int) -> None:
    logging.disable(logging.WARNING)
    people, began = make_people(), time.perf_counter()
    fill(people.director, size)
    print(f"\n{size} drills made in {time.perf_counter() - began:.0f} s")
    with connection.cursor() as cursor:
        cursor.execute("VACUUM ANALYZE")  # as the server does by itself after a while
    whole = measure(acting(people.coach), size)
    # Of fewer, reading all is the cheapest; where nearly all of many more match, it is again.
    assert whole == set() or size != 10_000


def _at(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]
