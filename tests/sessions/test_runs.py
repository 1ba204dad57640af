"""How often a drill was run, and by how many: counted from what took place, and one value wherever it stands."""

from datetime import timedelta
from typing import Any

import pytest
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from club.queries import today
from drills.models import Drill
from drills.pages.library import run_words
from drills.queries import RunCounts, times_run, with_times_run
from sessions.models import TrainingSession
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.setting_up import record

pytestmark = pytest.mark.django_db


def evening(world: World, drill: Any, *, days: int, leads: Any, parts: int = 1) -> Any:
    """A session some days ago, with the drill in so many parts."""
    return planned_session(
        place=world.own,
        by=world.people.director,
        day=today() - timedelta(days=days),
        staff=[leads],
        parts=[part_input(drill=drill) for _ in range(parts)],
    )


def counted(*drills: Any) -> list[RunCounts]:
    rows = {
        each.pk: each for each in with_times_run(Drill.objects.filter(pk__in=[each.pk for each in drills]))
    }
    return [times_run(rows[each.pk]) for each in drills]


def test_what_took_place_counts_and_by_whom(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    people = world.people
    drill, other = (shared_drill(owner=people.coach, title=title) for title in ("Run it", "Never run"))
    done = evening(world, drill, days=1, leads=people.coach, parts=2)
    keys = [str(each.public_id) for each in done.parts.all()]
    record(world, done, ("part_started", {"part": keys[0]}), ("delivered", {}))  # the second was left out
    record(
        world, evening(world, drill, days=2, leads=people.coach), ("delivered", {})
    )  # marked as done, no clock
    record(world, evening(world, drill, days=3, leads=people.colleague), ("shortened", {"minutes": 20}))
    begun = evening(world, drill, days=4, leads=people.director)
    record(
        world, begun, ("part_started", {"part": str(begun.parts.all()[0].public_id)})
    )  # never said to be done
    record(world, evening(world, drill, days=5, leads=people.director), ("cancelled", {"reason": "weather"}))
    evening(world, drill, days=-3, leads=people.director)  # still to come
    with django_assert_num_queries(1):
        found = counted(drill, other)
    assert found == [RunCounts(3, 2), RunCounts()]


def test_page_card_and_api_say_the_same(world: World) -> None:
    people = world.people
    drill = shared_drill(owner=people.coach)
    client = signed_in(people.colleague)
    pages = [reverse("drills:drill", args=[drill.public_id]), reverse("drills:list")]
    assert not any("Run once" in client.get(each).content.decode() for each in pages)
    record(world, evening(world, drill, days=1, leads=people.coach), ("delivered", {}))
    assert all("Run once by 1 coach" in client.get(each).content.decode() for each in pages)
    one = client.get(f"/api/v1/drills/{drill.public_id}/").json()
    row = client.get("/api/v1/drills/").json()["results"][0]
    assert one["times_run"] == row["times_run"] == {
        "times": 1, "coaches": 1, "again": 0, "again_changed": 0, "not_again": 0,
    }  # fmt: skip
    assert people.coach.name not in client.get(pages[1]).content.decode().split("Run once")[1][:40]


def test_a_session_that_is_taken_back_no_longer_counts(world: World) -> None:
    drill = shared_drill(owner=world.people.coach)
    session = evening(world, drill, days=1, leads=world.people.coach)
    record(world, session, ("delivered", {}))
    record(world, session, ("note", {"text": "n"}), ("note", {"text": "n"}), ("as_planned", {}))
    assert TrainingSession.objects.get(pk=session.pk).state == "planned"
    assert counted(drill) == [RunCounts()]


@pytest.mark.parametrize(
    ("run", "words"),
    [
        (RunCounts(), ""),
        (RunCounts(1, 1), "Run once by 1 coach"),
        (RunCounts(7, 4), "Run 7 times by 4 coaches"),
        (RunCounts(2, 0), "Run 2 times"),
    ],
)
def test_it_is_said_in_words(run: RunCounts, words: str) -> None:
    assert run_words(run) == words
