"""Whether the whole is ready for people."""

from typing import Any

from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from bibrack.outages import free_mb
from drills import queries as drills


def readiness() -> dict[str, Any]:
    """Migrations, worker heartbeat and the oldest waiting job."""
    executor = MigrationExecutor(connection)
    waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    with connection.cursor() as cursor:
        cursor.execute("SELECT extract(epoch FROM now() - max(last_heartbeat)) FROM procrastinate_workers")
        beat = cursor.fetchone()[0]
        cursor.execute(
            "SELECT count(*), extract(epoch FROM now() - min(at)) FROM procrastinate_events e "
            "JOIN procrastinate_jobs j ON j.id = e.job_id WHERE j.status = 'todo' AND e.type = 'deferred'"
        )
        jobs, oldest = cursor.fetchone()
    worker_alive = beat is not None and abs(beat) < 60
    return {
        "status": "ok" if not waiting and worker_alive else "not ready",
        "migrations_waiting": len(waiting),
        "worker_heartbeat_s": None if beat is None else round(float(beat), 1),
        "drills_to_rederive": drills.count_outdated_drills(),
        "free_disk_mb": free_mb(),
        "jobs_waiting": jobs,
        "oldest_job_s": None if oldest is None else round(float(oldest), 1),
    }
