"""A cluster: the files of one PostgreSQL server."""

import shutil
import signal
import subprocess
import uuid
from dataclasses import dataclass
from pathlib import Path

from bibrack.postgres import PostgresError, process
from bibrack.postgres import account as accounts
from bibrack.postgres.account import SystemUser
from bibrack.postgres.binaries import Binaries
from bibrack.postgres.places import ClusterPaths

KEEPER = "bibrack_keeper"  # the cluster's superuser; the application itself never signs in as it
FIRST_WITH_BUILTIN_LOCALE = 17
FIRST_WITH_IO_METHODS = 18

# Sized for one club on a small machine: a few dozen connections, some 60 MB.
SETTINGS = {
    "listen_addresses": "",  # the socket alone: no port is open to the network
    "unix_socket_permissions": "0700",
    "fsync": "on",
    "shared_buffers": "32MB",
    "work_mem": "4MB",
    "maintenance_work_mem": "32MB",
    "max_connections": "60",
    "max_worker_processes": "2",
    "max_parallel_workers": "0",
    "max_parallel_workers_per_gather": "0",
    "autovacuum_max_workers": "1",
    "wal_level": "minimal",  # backups are dumps; nothing here replicates
    "max_wal_senders": "0",
    "min_wal_size": "32MB",
    "max_wal_size": "256MB",
    "jit": "off",
    "timezone": "UTC",
    "log_timezone": "UTC",
    # Statements carry what was typed, names and sessions among it: what is slow or fails is told by our own log.
    "log_min_error_statement": "panic",
    "log_error_verbosity": "terse",
}


@dataclass(frozen=True)
class Durability:
    """What may be given up for speed; everything, for a database that is thrown away."""

    kept: bool = True

    @property
    def settings(self) -> dict[str, str]:
        """Settings that override the usual ones."""
        if self.kept:
            return {}
        return {
            "fsync": "off",
            "synchronous_commit": "off",
            "full_page_writes": "off",
            "max_connections": "200",
            # Its workers are the superuser's: whoever drops a database while one looks at it is refused.
            "autovacuum": "off",
        }


def ensure(binaries: Binaries, account: SystemUser | None, cluster: Path, durability: Durability) -> None:
    """Make the cluster when there is none, and refuse one of another major version.

    Raises PostgresError.
    """
    if cluster.exists():
        _check_version(binaries, cluster)
        return
    # A half-made cluster must not be taken for a whole one: it gets its name when it is finished. Until then it has
    # a name of its own: the `initdb` of a killed start may still be at work, and tidies up by name when it fails.
    for left in cluster.parent.glob(f"{cluster.name}.new*"):
        shutil.rmtree(left, ignore_errors=True)
    half = cluster.with_name(f"{cluster.name}.new-{uuid.uuid4().hex[:8]}")
    accounts.give(account, half)
    done = subprocess.run(
        [binaries.initdb, *_initdb_words(binaries, half, durability)],
        capture_output=True,
        text=True,
        check=False,
        cwd="/",
        env=ENVIRONMENT,
        start_new_session=True,  # Ctrl-C must not leave half a cluster
        preexec_fn=process.ends_with_parent(signal.SIGKILL),
        **accounts.as_account(account),
    )
    if done.returncode != 0:
        shutil.rmtree(half, ignore_errors=True)
        raise PostgresError(f"The database's files could not be made in {half}: {done.stderr.strip()}")
    half.rename(cluster)


ENVIRONMENT = {"LC_ALL": "C", "PATH": "/usr/bin:/bin", "TZ": "UTC"}  # nothing of the caller's leaks in


def _initdb_words(binaries: Binaries, folder: Path, durability: Durability) -> list[str]:
    words = [
        f"--pgdata={folder}",
        f"--username={KEEPER}",
        "--encoding=UTF8",
        "--no-instructions",
        "--auth-local=trust",  # the socket's folder is closed to others
        "--auth-host=reject",
    ]
    if binaries.major >= FIRST_WITH_BUILTIN_LOCALE:
        words += ["--locale-provider=builtin", "--locale=C", "--builtin-locale=C.UTF-8"]
    else:
        words += ["--locale=C.UTF-8"]
    return words if durability.kept else [*words, "--no-sync"]


def _check_version(binaries: Binaries, cluster: Path) -> None:
    try:
        written_by = (cluster / "PG_VERSION").read_text(encoding="utf-8").strip()
    except OSError:
        raise PostgresError(
            f"{cluster} holds no database (no PG_VERSION): move it away, or choose another DATA_DIR."
        ) from None
    if written_by != str(binaries.major):
        raise PostgresError(
            f"The data in {cluster} was written by PostgreSQL {written_by}, and version {binaries.version} is "
            f"installed: go back to the Bibrack you had, make a backup there, and restore it here."
        )


def server_words(binaries: Binaries, places: ClusterPaths, durability: Durability) -> list[str]:
    """Return the command that serves the cluster."""
    settings = {**SETTINGS, **durability.settings, "unix_socket_directories": str(places.socket)}
    if binaries.major >= FIRST_WITH_IO_METHODS:
        settings["io_method"] = "sync"  # three processes fewer
    words = [binaries.postgres, "-D", str(places.cluster)]
    for name, value in settings.items():
        words += ["-c", f"{name}={value}"]
    return words
