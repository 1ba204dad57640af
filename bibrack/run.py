"""`make run`: database, web server and worker of one installation, started, watched and stopped together.

Environment: HOST (127.0.0.1), PORT (8000), DATA_DIR (./data), DATABASE_URL (none: our own database).
`python -m bibrack.run manage <command>` runs one of manage.py's commands, with the database started for
it when it is not running. No Django here: what needs it runs in processes of its own.
"""

import errno
import os
import secrets
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import IO
from urllib.parse import urlsplit

from bibrack import mail, programs
from bibrack.log_pipes import LogPipes
from bibrack.postgres import PostgresError, process, runlock, where
from bibrack.postgres.server import Server
from bibrack.programs import Program
from club import reading

BASE_DIR = Path(__file__).resolve().parent.parent
READY_PATIENCE_S = 300.0  # a first start migrates and loads the demo club
QUIET_S = 6.0
ORPHAN_PATIENCE_S = 5.0
LOOK_EVERY_S = 0.2
WAYS_IN = "ways-in.txt"
# How the C library keeps memory: by default it has up to eight pools a processor, and gives little of them back.
SMALLER = {"MALLOC_ARENA_MAX": "2", "MALLOC_TRIM_THRESHOLD_": "131072"}
LOGS = ("web", "worker", "postgres")
DATABASE_RETRIES = 5
FULL_DISK = 507  # what /healthz answers when the site works and can save nothing
DISK_REFUSES = (errno.ENOSPC, errno.EDQUOT, errno.EROFS)


class CannotRun(RuntimeError):
    """One clear line for the person at the keyboard."""


@dataclass(frozen=True)
class RunOptions:
    """What the environment asks for."""

    host: str
    port: int
    data: Path
    database_url: str  # empty: ours

    @property
    def address(self) -> str:
        """Where this machine's browser finds the site."""
        host = {"0.0.0.0": "127.0.0.1", "::": "[::1]", "127.0.0.1": "localhost"}.get(self.host, self.host)
        return f"http://{host}:{self.port}/"


def read_options(environ: Mapping[str, str]) -> RunOptions:
    """Return the options. Raises CannotRun for a port that is none, and for a mail server that can't be read."""
    named_port = environ.get("PORT", "").strip() or "8000"
    port = reading.whole(named_port, 1, 65535)
    if port is None:
        raise CannotRun(f"PORT must be a number from 1 to 65535, not {named_port!r}.")
    try:
        mail.mail_server(environ), mail.sender(environ, "localhost")
    except ValueError as error:
        raise CannotRun(str(error)) from None
    data = where.data_dir(environ, BASE_DIR)
    named = environ.get("DATABASE_URL", "") or environ.get("DATABASE_URL_FILE", "")
    url = where.database_url(environ, BASE_DIR) if named.strip() else None
    return RunOptions(environ.get("HOST", "").strip() or "127.0.0.1", port, data, url or "")


def check_port(options: RunOptions) -> None:
    """Raise CannotRun when the port is taken or the host is not this machine's."""
    try:
        found = socket.getaddrinfo(options.host, options.port, type=socket.SOCK_STREAM)
        family, kind, protocol, _, address = found[0]
        with socket.socket(family, kind, protocol) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
    except PermissionError:
        raise CannotRun(
            f"Port {options.port} is kept for root: choose one above 1023, as in PORT=8000 make run"
        ) from None
    except OSError as error:
        raise CannotRun(
            f"Port {options.port} on {options.host} cannot be used ({error.strerror}): "
            f"choose another, as in PORT={options.port + 1} make run"
        ) from None


def wait_for_port(options: RunOptions, patience_s: float) -> None:
    """Give what a killed predecessor left on the port time to end. Raises CannotRun."""
    deadline = time.monotonic() + patience_s
    while True:
        try:
            return check_port(options)
        except CannotRun:
            if time.monotonic() >= deadline:
                raise
            time.sleep(LOOK_EVERY_S)


def ensure_secret_key(data: Path) -> None:
    """Make the installation's secret key once; only we can read it. Call it while holding the data folder's lock.

    It gets its name when it is whole; an empty one was left by a start that was killed.
    """
    path = data / "secret_key"
    if path.exists() and path.stat().st_size:
        return
    half = data / "secret_key.new"
    half.unlink(missing_ok=True)
    descriptor = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="utf-8") as handle:
        handle.write(secrets.token_urlsafe(48))
        handle.flush()
        os.fsync(handle.fileno())
    half.replace(path)


def child_environment(options: RunOptions, url: str) -> dict[str, str]:
    """Return what the children need to find everything by themselves."""
    return {
        **os.environ,
        "DATABASE_URL": url,
        "DATA_DIR": str(options.data),
        "PORT": str(options.port),
        "PYTHONUNBUFFERED": "1",
        "PYTHONPATH": str(BASE_DIR),
        **SMALLER,
    }


def web_words(options: RunOptions, *, with_links: bool) -> list[str]:
    """Return the web server's command; it prepares the database first, and writes links for the terminal if asked."""
    host = f"[{options.host}]" if ":" in options.host else options.host
    links = [f"--ways-in={options.data / WAYS_IN}"] if with_links else []
    return manage_words("serve", f"--bind={host}:{options.port}", *links)


def manage_words(*words: str) -> list[str]:
    """Return the command that runs one of manage.py's commands."""
    return [sys.executable, str(BASE_DIR / "manage.py"), *words]


class Supervisor:
    """Everything of one installation that runs on this machine."""

    def __init__(self, options: RunOptions) -> None:
        self.options = options
        self.stopping = threading.Event()
        self.server: Server | None = None
        self.programs: list[Program] = []
        self.logs: LogPipes | None = None
        self._database_deaths = 0
        self._database_not_before = 0.0

    def run(self) -> None:
        """Start everything, watch it until told to stop, and stop it. Raises CannotRun, PostgresError."""
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            if number != signal.SIGHUP or signal.getsignal(number) != signal.SIG_IGN:  # nohup is heeded
                signal.signal(number, self._stop_soon)
        lock = runlock.take(self.options.data)
        try:
            orphans = programs.end_orphans(self.options.data)
            wait_for_port(self.options, ORPHAN_PATIENCE_S if orphans else 0.0)
            ensure_secret_key(self.options.data)
            self.logs = LogPipes(self.options.data / "log", LOGS)
            self.logs.keep_writing()
            url = self.options.database_url or self._start_database(lock, self.logs)
            env = child_environment(self.options, url)
            self._forget_links()  # a predecessor that was killed may have left some
            self._start_program("web server", web_words(self.options, with_links=True), env)
            if self._wait_until_ready():
                self._greet()
                self._start_program("worker", manage_words("work"), env)  # needs a migrated database
                self._watch()
        finally:
            self._end()
            lock.close()

    def _stop_soon(self, number: int, frame: FrameType | None) -> None:
        self.stopping.set()

    def _start_database(self, lock: IO[str], logs: LogPipes) -> str:
        self.server = Server(self.options.data, run_lock=lock, pipe=logs["postgres"])
        self.server.start()
        return self.server.url

    def _start_program(self, name: str, words: list[str], env: Mapping[str, str]) -> None:
        assert self.logs is not None
        short = name.split()[0]
        log = self.logs.folder / f"{short}.log"
        program = Program(name, words, folder=BASE_DIR, env=env, log=log, pipe=self.logs[short])
        program.start()
        self.programs.append(program)
        programs.note_children(self.options.data, self.programs)

    def _wait_until_ready(self) -> bool:
        """Wait for the first good answer; tell whether it came before we were told to stop."""
        began, told = time.monotonic(), False
        assert self.logs is not None
        while not self.stopping.wait(0.1):
            if answers(self.options):
                return True
            self.logs.keep_writing()
            web = self.programs[0]
            if not web.is_running() or time.monotonic() > began + READY_PATIENCE_S:
                raise CannotRun(f"{web.last_words()}\nThe web server did not start; its log is {web.log}")
            if not told and time.monotonic() > began + QUIET_S:
                told = True
                print("Preparing the database: a first start can take a minute or two.", flush=True)
        return False

    def _greet(self) -> None:
        print(f"\nBibrack is ready at {self.options.address}")
        ways_in = self.options.data / WAYS_IN
        if ways_in.exists():
            print(f"\n{ways_in.read_text(encoding='utf-8')}")
        self._forget_links()  # whoever reads the terminal has them; nobody else should
        # Nobody reads those of a second start.
        self.programs[0].words = web_words(self.options, with_links=False)
        print(f"\nIts data and logs are in {self.options.data}. Ctrl-C stops it.", flush=True)

    def _forget_links(self) -> None:
        (self.options.data / WAYS_IN).unlink(missing_ok=True)

    def _watch(self) -> None:
        while not self.stopping.wait(LOOK_EVERY_S):
            self._watch_database()
            assert self.logs is not None
            self.logs.keep_writing()
            for program in self.programs:
                status = program.death()
                if status is not None:
                    print(
                        f"The {program.name} stopped ({describe(status)}); it is started again.", flush=True
                    )
                if program.is_due():
                    program.start()
                    programs.note_children(self.options.data, self.programs)

    def _watch_database(self) -> None:
        if self.server is None or self.server.is_running() or time.monotonic() < self._database_not_before:
            return
        print("The database stopped; it is started again.", flush=True)
        self._database_deaths += 1
        try:
            self.server.restart()
        except PostgresError as error:
            if self._database_deaths >= DATABASE_RETRIES:
                raise
            print(error, flush=True)
            self._database_not_before = time.monotonic() + 2.0**self._database_deaths
        else:
            self._database_deaths = 0

    def _end(self) -> None:
        """Web and worker first, so that nobody writes when the database ends."""
        programs.end(self.programs)
        if self.server is not None:
            self.server.stop()
        if self.logs is not None:
            self.logs.close()
        self._forget_links()
        (self.options.data / programs.CHILDREN_FILE).unlink(missing_ok=True)


def answers(options: RunOptions) -> bool:
    """Tell whether the site answers that it is well."""
    host = {"0.0.0.0": "127.0.0.1", "::": "[::1]"}.get(options.host, options.host)
    request = urllib.request.Request(f"http://{host}:{options.port}/healthz", headers={"Host": own_name()})
    try:
        with urllib.request.urlopen(request, timeout=5) as answer:
            return bool(answer.status == 200)
    except urllib.error.HTTPError as error:
        return error.code == FULL_DISK  # it is up; `doctor` and every page say what is the matter
    except (urllib.error.URLError, OSError):
        return False


def own_name() -> str:
    """Return the host under which the site answers: it refuses others."""
    return urlsplit(os.environ.get("SITE_URL", "")).hostname or "localhost"


def describe(status: int) -> str:
    """Say how a process ended."""
    return f"signal {-status}" if status < 0 else f"exit status {status}"


def manage(options: RunOptions, words: Sequence[str]) -> int:
    """Run one of manage.py's commands, starting the database for it when it is not running."""
    if options.database_url:
        return _call(options, options.database_url, words)
    try:
        lock = runlock.take(options.data)
    except PostgresError:
        url = where.read_run_file(options.data).get("url")
        if not isinstance(url, str):  # still starting, or a folder that cannot be used
            raise
        return _call(options, url, words)
    ensure_secret_key(options.data)
    with Server(options.data, run_lock=lock) as server:
        return _call(options, server.url, words)


def _call(options: RunOptions, url: str, words: Sequence[str]) -> int:
    return subprocess.call(manage_words(*words), cwd=BASE_DIR, env=child_environment(options, url))


def main(arguments: Sequence[str]) -> int:
    """Run, and turn what cannot be into one clear line."""
    try:
        options = read_options(os.environ)
        if arguments[:1] == ["manage"]:
            return manage(options, arguments[1:])
        if arguments[:1] == ["--end-with-parent"]:  # a killed `make` leaves nothing behind
            process.end_with_my_parent(signal.SIGTERM)
        Supervisor(options).run()
    except (CannotRun, PostgresError) as error:
        print(error, file=sys.stderr)
        return 1
    except OSError as error:
        if error.errno not in DISK_REFUSES:
            raise
        print(f"The data folder cannot be written to ({error.strerror}): make room there.", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
