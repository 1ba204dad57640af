"""After the engine's version rises: outdated rows are rebuilt by themselves, once, while pages go on with the old ones."""

import json
import threading
from concurrent.futures import ThreadPoolExecutor
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection, connections, transaction

from drills import actions, queries
from drills.actions import derive as outdated
from drills.game.rooms import ENGINE_VERSION
from drills.models import Drill, Footprint
from drills.queries.search import DrillSearch, rooms_for
from drills.tasks import rederive_outdated
from tests.drills.samples import small, whole
from tests.drills.test_rooms_for import keep, with_revision

TONIGHT = DrillSearch(players=5, length=12, width=12)


def of_an_older_engine(count: int) -> list[Drill]:
    drills = [with_revision(small(title=f"Drill {number}")) for number in range(count)]
    Footprint.objects.update(engine_version=ENGINE_VERSION - 1)
    for row in Footprint.objects.all():
        Footprint.objects.filter(pk=row.pk).update(fingerprint=f"old {row.pk}")
    return drills


def waiting() -> list[tuple[str, dict[str, int]]]:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT queue_name, args::text FROM procrastinate_jobs WHERE status = 'todo' AND task_name = %s ORDER BY id",
            [outdated.TASK],
        )
        return [(queue, json.loads(args)) for queue, args in cursor.fetchall()]


def taken() -> None:
    """As a worker takes what waits."""
    with connection.cursor() as cursor:
        cursor.execute(
            "UPDATE procrastinate_jobs SET status = 'succeeded' WHERE task_name = %s", [outdated.TASK]
        )


def found() -> set[str]:
    return set(
        Drill.objects.filter(variations__footprint__in=rooms_for(TONIGHT).values("footprint")).values_list(
            "title", flat=True
        )
    )


def test_nothing_is_asked_for_while_all_is_up_to_date(db: None) -> None:
    with_revision(whole())
    keep(small())  # it has no revision yet
    assert (queries.count_outdated_drills(), actions.ask_to_rederive(), waiting()) == (0, False, [])


def test_rows_are_rebuilt_in_bites_that_queue_one_another(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(outdated, "AT_ONCE", 2)
    drills = of_an_older_engine(3)
    titles = found()
    assert titles == {"Drill 0", "Drill 1", "Drill 2"}
    assert [actions.ask_to_rederive(), actions.ask_to_rederive()] == [True, False]
    assert waiting() == [("quick", {"after": 0})]

    taken()
    assert rederive_outdated.func(after=0) == 2
    assert (queries.count_outdated_drills(), found()) == (1, titles), "found all the while"
    assert waiting() == [("quick", {"after": drills[1].pk})]
    assert Footprint.objects.filter(engine_version__lt=ENGINE_VERSION).exists()

    taken()
    assert rederive_outdated.func(after=drills[1].pk) == 1
    assert (queries.count_outdated_drills(), found(), waiting()) == (0, titles, [])
    assert set(Footprint.objects.values_list("engine_version", flat=True)) == {ENGINE_VERSION}, (
        "the old are swept"
    )


def test_a_drill_that_cannot_be_rebuilt_keeps_nobody_waiting(
    db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outdated, "AT_ONCE", 1)
    broken, _sound = of_an_older_engine(2)

    def rebuild(*, drill_id: int, made_anew: set[str]) -> None:
        raise ValueError("this one never")

    with monkeypatch.context() as patched:
        patched.setattr(outdated, "rederive_drill", rebuild)
        with pytest.raises(ValueError, match="never"):
            rederive_outdated.func()
    assert waiting() == [("quick", {"after": broken.pk})]
    taken()
    assert rederive_outdated.func(after=broken.pk) == 1
    assert queries.count_outdated_drills() == 1


def test_the_doctor_shows_how_far_it_is(db: None) -> None:
    of_an_older_engine(2)
    said = StringIO()
    with pytest.raises(CommandError):
        call_command("doctor", stdout=said)
    assert "BAD  2 drills are found by what an older version worked out" in said.getvalue()


@pytest.mark.django_db(transaction=True)
def test_two_workers_that_start_at_once_queue_one_job() -> None:
    of_an_older_engine(1)
    together = threading.Barrier(2)

    def start(_: int) -> bool:
        with transaction.atomic():
            together.wait()
            asked = actions.ask_to_rederive()
        connections.close_all()
        return asked

    with ThreadPoolExecutor(2) as both:
        assert sorted(both.map(start, range(2))) == [False, True]
    assert len(waiting()) == 1
