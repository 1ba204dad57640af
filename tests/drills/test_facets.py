"""Counts beside the filters: each facet under the choices in the two others."""

from collections.abc import Callable
from typing import Any

import pytest
from django.db.models import F
from django.test import Client

from drills.choices import DrillState
from drills.models import Drill
from drills.queries import DrillSearch, facets, hits_and_facets
from tests.drills.people import People, acting, make
from tests.drills.samples import small

pytestmark = pytest.mark.django_db
ROWS = [
    ("C", "rondo", DrillState.DRAFT, ["press"]),
    ("A", "rondo", DrillState.CLUB_STANDARD, ["press", "keep"]),
    ("B", "waves", DrillState.CLUB_STANDARD, []),
]


@pytest.fixture
def shelf(people: People) -> People:
    from drills.bridge import project

    for title, activity, state, themes in ROWS:
        drill = Drill(state=state, owner=people.coach)
        project(drill, small(title=title, activity=activity, themes=themes))
        drill.save()
    return people


def counted(people: People, **chosen: Any) -> tuple[str, facets.Facets]:
    """The titles in their order as one word, and the counts."""
    shelf = Drill.objects.annotate(sort_key=F("title_sort")).order_by("sort_key", "id")
    found = facets.count_facets([shelf], DrillSearch(**chosen))
    titles = dict(Drill.objects.values_list("pk", "title"))
    return "".join(titles[each] for each in found.chosen), found


def test_a_facet_counts_under_the_others_choices(shelf: People) -> None:
    titles, found = counted(shelf, activity="rondo", state="club standard")
    assert (titles, dict(found.activities), dict(found.states), dict(found.themes)) == (
        "A",
        {"rondo": 1, "waves": 1},
        {"draft": 1, "club standard": 1},
        {"press": 1, "keep": 1},
    )
    assert counted(shelf, theme="press")[0] == "AC"
    assert counted(shelf, theme="press", state="draft")[0] == "C"


def test_nothing_chosen_counts_everything(shelf: People) -> None:
    titles, found = counted(shelf)
    assert (titles, found.capped, found.more) == ("ABC", False, False)
    assert dict(found.themes) == {"press": 2, "keep": 1}
    assert facets.with_counts([("rondo", "Rondo"), ("match", "Match")], found.activities, found.capped) == [
        ("rondo", "Rondo", "2"),
        ("match", "Match", "0"),
    ]


@pytest.mark.parametrize(
    ("chosen", "titles", "more", "rondos"),
    [
        ({}, "AB", True, "1+"),
        ({"activity": "rondo"}, "AC", False, "1+"),
        ({"theme": "keep"}, "A", False, "1+"),
    ],
)
def test_more_than_are_counted_are_said_to_be_more(
    shelf: People, monkeypatch, chosen: dict[str, str], titles: str, more: bool, rondos: str
) -> None:
    monkeypatch.setattr(facets, "MOST_COUNTED", 2)
    listed, found = counted(shelf, **chosen)
    assert (listed, found.capped, found.more) == (titles, True, more)
    assert facets.with_counts([("rondo", "Rondo")], found.activities, found.capped) == [
        ("rondo", "Rondo", rondos)
    ]


def test_one_query_finds_and_counts_and_one_reads_what_is_shown(
    shelf: People, django_assert_num_queries
) -> None:
    actor, wanted = acting(shelf.director), DrillSearch(q="one hunter", minutes=60)
    with django_assert_num_queries(1):
        found, _counts = hits_and_facets(actor, wanted)
        assert len(found) == 3
    with django_assert_num_queries(1):
        assert [each.title for each in found[1:]] == ["B", "C"]


def test_what_is_spelt_nearly_so_comes_after_what_says_it_where_that_is_little(
    people: People, visitor: Callable[..., Client]
) -> None:
    for title in ("Gaet Drill", "Gate Drill", "Other Drill"):  # the first with a slip of its own
        make(people.coach, title=title)
    actor = acting(people.coach)
    found, facet = hits_and_facets(actor, DrillSearch(q="gaet"))
    assert ([each.title for each in found[:]], facet.as_typed) == (["Gaet Drill", "Gate Drill"], 1)
    found, facet = hits_and_facets(actor, DrillSearch(q="gate", activity="possession"))
    assert ([each.title for each in found[:]], facet.as_typed) == (["Gate Drill", "Gaet Drill"], 1)
    found, facet = hits_and_facets(actor, DrillSearch(q="drill"))
    assert (len(found), facet.as_typed) == (3, None)
    html = visitor(people.coach).get("/library/?q=gaet").content.decode()
    assert html.index("Gaet Drill") < html.index("Did you mean?") < html.index("Gate Drill")
    html = visitor(people.coach).get("/library/?q=gatr").content.decode()
    assert html.index("No drill says “gatr”.") < html.index("Gate Drill")
    assert "Did you mean?" not in html


def test_they_stand_beside_the_filters(people: People, visitor: Callable[..., Client]) -> None:
    make(people.coach)
    make(people.coach, activity="waves", themes=[])
    html = visitor(people.coach).get("/library/?activity=waves").content.decode()
    for said in ("Possession · 1", "Waves · 1", "Rondo · 0", "Keep the ball · 0", "draft · 1"):
        assert said in html
    assert html.count('class="card"') == 1
