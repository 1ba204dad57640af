"""The worker for real: a job is done, and one whose worker was killed half-way is taken up again, once."""

import pytest
from django.db import connection
from django.utils import timezone
from procrastinate.contrib.django import app

from sessions.models import Computation
from sessions.proposals import actions
from tests.harness.jobs import run_jobs
from tests.people import World
from tests.sessions.proposing.evening import asked, evening, library, titles

pytestmark = pytest.mark.django_db(transaction=True)


def killed_half_way(row: Computation) -> None:
    """Leave the rows as a worker leaves them that was killed a minute ago while it was at this computation."""
    Computation.objects.filter(pk=row.pk).update(
        state="working", tries=1, seen_at=timezone.now() - timezone.timedelta(minutes=1)
    )
    with connection.cursor() as cursor:
        cursor.execute(
            "INSERT INTO procrastinate_workers (last_heartbeat) VALUES (now() - interval '1 minute') RETURNING id"
        )
        worker = cursor.fetchone()[0]
        cursor.execute(
            "UPDATE procrastinate_jobs SET status = 'doing', worker_id = %s, attempts = 1 WHERE queue_name = 'solver'",
            [worker],
        )


def jobs() -> list[str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT status::text FROM procrastinate_jobs WHERE queue_name = 'solver'")
        return [status for (status,) in cursor.fetchall()]


def test_a_killed_workers_proposal_is_taken_up_again_and_answered_once(world: World) -> None:
    library(world)
    row = asked(world, evening(world))
    killed_half_way(row)
    run_jobs("solver")
    row.refresh_from_db()
    assert row.state == "working"  # nobody takes it up by himself
    app.configure_task("club.rescue_jobs", queue="quick").defer(timestamp=0)
    run_jobs("quick")
    run_jobs("solver")
    row.refresh_from_db()
    assert (row.state, row.tries) == ("done", 2)
    assert titles(row) == ["Hello Square", "Lamp Keepers", "Harbour Run"]
    assert jobs() == ["succeeded"]
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "nothing to do"


def test_a_proposal_that_waits_without_a_job_gets_one(world: World) -> None:
    library(world)
    row = asked(world, evening(world))
    with connection.cursor() as cursor:
        cursor.execute("UPDATE procrastinate_jobs SET status = 'failed'")
    assert actions.bring_back_turns() == 0  # it has only just been asked for
    Computation.objects.update(made_at=timezone.now() - timezone.timedelta(minutes=6))
    assert [actions.bring_back_turns() for _time in range(3)] == [1, 0, 0]
    run_jobs("solver")
    row.refresh_from_db()
    assert (row.state, sorted(jobs())) == ("done", ["failed", "succeeded"])


def test_a_search_that_is_worked_on_ends_with_what_it_has_when_told_to(world: World) -> None:
    library(world)
    row = asked(world, evening(world))
    Computation.objects.filter(pk=row.pk).update(wants_stop=True)
    run_jobs("solver")
    row.refresh_from_db()
    assert row.state == "cancelled"
