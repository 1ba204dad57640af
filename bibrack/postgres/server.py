"""One PostgreSQL server, started as our child, kept on one data folder and stopped cleanly."""

import contextlib
import json
import os
import signal
import subprocess
import time
from pathlib import Path
from types import TracebackType
from typing import IO, Self

import psycopg
from psycopg import sql

from bibrack.log_pipes import Pipe
from bibrack.postgres import PostgresError, lock, places, process, runlock, where
from bibrack.postgres import account as accounts
from bibrack.postgres import binaries as programs
from bibrack.postgres import cluster as clusters

START_PATIENCE_S = 60.0  # crash recovery included
STOP_PATIENCE_S = 30.0


class Server:
    """The database of one data folder. Start it from the main thread (see `ends_with_parent`)."""

    def __init__(
        self, data: Path, *, kept: bool = True, run_lock: IO[str] | None = None, pipe: Pipe | None = None
    ) -> None:
        """Prepare for `data`; `kept=False` trades safety for speed, for what is thrown away.

        A caller that holds the data folder already hands its lock over. What the server says goes into `pipe`, whose
        reader keeps the log; without one, as for a single command, straight into the log's file.
        """
        self.data = data.absolute()
        self.durability = clusters.Durability(kept)
        self.child: subprocess.Popen[bytes] | None = None
        self.places: places.ClusterPaths | None = None
        self.version = ""
        self._run_lock = run_lock
        self._pipe = pipe

    def __enter__(self) -> Self:
        """Start."""
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Stop."""
        self.stop()

    @property
    def url(self) -> str:
        """The application's address in it. Raises PostgresError before the start."""
        if self.places is None:
            raise PostgresError("The database has not been started.")
        return where.socket_url(self.places.socket)

    def start(self) -> None:
        """Start the server, making the cluster, the role and the database when they are missing.

        Raises PostgresError with a sentence for the person who started us.
        """
        if self._run_lock is None:
            self._run_lock = runlock.take(self.data)
        try:
            self._start()
        except BaseException:
            self.stop()
            raise

    def _start(self) -> None:
        account = accounts.choose(places.cluster_folder(self.data))
        self.places = places.arrange(self.data, account)
        binaries = programs.find(account, places.SHARED_DATA)
        self.version = binaries.version
        clusters.ensure(binaries, account, self.places.cluster, self.durability)
        lock.clear(self.places.cluster, self.places.socket)
        self.child = self._launch(clusters.server_words(binaries, self.places, self.durability), account)
        self._wait_until_ready()
        _ensure_database(self.places.socket)
        self._write_run_file()

    def _launch(self, words: list[str], account: accounts.SystemUser | None) -> subprocess.Popen[bytes]:
        assert self.places is not None
        with self._sink() as sink:
            child: subprocess.Popen[bytes] = subprocess.Popen(
                words,
                stdin=subprocess.DEVNULL,
                stdout=sink,
                stderr=sink,
                cwd="/",
                env=clusters.ENVIRONMENT,
                start_new_session=True,  # Ctrl-C is for us: the database ends last, and by our word
                preexec_fn=process.ends_with_parent(signal.SIGINT),
                **accounts.as_account(account),
            )
        return child

    def _sink(self) -> contextlib.AbstractContextManager[int | IO[bytes]]:
        assert self.places is not None
        if self._pipe is not None:
            return contextlib.nullcontext(self._pipe.writes)
        return self.places.log.open("ab")

    def _wait_until_ready(self) -> None:
        assert self.places is not None
        assert self.child is not None
        deadline = time.monotonic() + START_PATIENCE_S
        while lock.read(self.places.cluster) != (self.child.pid, "ready"):
            if self.child.poll() is not None:
                raise PostgresError(f"The database did not start. {self._last_words()}")
            if time.monotonic() > deadline:
                raise PostgresError(
                    f"The database is not ready after {START_PATIENCE_S:.0f} s. {self._last_words()}"
                )
            time.sleep(0.01)

    def _last_words(self) -> str:
        assert self.places is not None
        if self._pipe is not None:
            self._pipe.wait_until_read()
        if not self.places.log.exists():
            return ""
        lines = self.places.log.read_text(encoding="utf-8", errors="replace").splitlines()
        return f"Its last words, from {self.places.log}:\n" + "\n".join(lines[-6:])

    def is_running(self) -> bool:
        """Tell whether the server process lives."""
        return self.child is not None and self.child.poll() is None

    def restart(self) -> None:
        """Start again after the server process died. Raises PostgresError."""
        self.child = None
        self._start()

    def stop(self) -> None:
        """Stop cleanly: sessions are ended, everything is on disk. Safe to call twice."""
        if self.child is not None and self.child.poll() is None:
            self.child.send_signal(signal.SIGINT)
            try:
                self.child.wait(STOP_PATIENCE_S)
            except subprocess.TimeoutExpired:
                self.child.send_signal(signal.SIGQUIT)  # the next start recovers from the log
                self.child.wait()
        self.child = None
        if self.places is not None and self.places.socket.parent != self.places.cluster.parent:
            with contextlib.suppress(OSError):  # in a shared place: leave nothing there
                self.places.socket.rmdir()
        if self._run_lock is not None:
            (self.data / where.RUN_FILE).unlink(missing_ok=True)
            self._run_lock.close()
            self._run_lock = None

    def _write_run_file(self) -> None:
        assert self.places is not None
        assert self.child is not None
        facts = {
            "url": self.url,
            "socket": str(self.places.socket),
            "port": 5432,
            "cluster": str(self.places.cluster),
            "pid": self.child.pid,
            "supervisor_pid": os.getpid(),
            "postgres_version": self.version,
        }
        half = self.data / f"{where.RUN_FILE}.new"
        half.write_text(json.dumps(facts, indent=1), encoding="utf-8")
        half.replace(self.data / where.RUN_FILE)


def _ensure_database(socket: Path) -> None:
    """Make the application's role and database: it owns the database and is no superuser."""
    role, database = sql.Identifier(where.APP_ROLE), sql.Identifier(where.APP_DATABASE)
    with psycopg.connect(
        where.socket_url(socket, role=clusters.KEEPER, database="postgres"), autocommit=True
    ) as keeper:
        if not keeper.execute("SELECT 1 FROM pg_roles WHERE rolname = %s", [where.APP_ROLE]).fetchone():
            keeper.execute(sql.SQL("CREATE ROLE {} LOGIN CREATEDB").format(role))
        if not keeper.execute(
            "SELECT 1 FROM pg_database WHERE datname = %s", [where.APP_DATABASE]
        ).fetchone():
            keeper.execute(sql.SQL("CREATE DATABASE {} OWNER {}").format(database, role))
        with contextlib.suppress(psycopg.errors.UndefinedObject):
            keeper.execute(sql.SQL("REVOKE CONNECT ON DATABASE {} FROM PUBLIC").format(database))
