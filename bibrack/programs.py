"""The programs that `make run` keeps alive: started again when they die, ended when it ends. No Django here."""

import contextlib
import json
import os
import signal
import subprocess
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

from bibrack.log_pipes import Pipe
from bibrack.postgres import process

FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.5, 30.0
SETTLED_S = 60.0  # alive for so long, a program's earlier deaths are forgotten
END_PATIENCE_S = 15.0
CHILDREN_FILE = "children.json"


class Program:
    """One child process whose words go into a pipe, and from there into a log. Start it from the main thread."""

    def __init__(
        self,
        name: str,
        words: Sequence[str],
        *,
        folder: Path,
        env: Mapping[str, str],
        log: Path,
        pipe: Pipe,
    ) -> None:
        self.name = name
        self.words = list(words)
        self.folder = folder
        self.env = dict(env)
        self.log = log
        self.pipe = pipe
        self.child: subprocess.Popen[bytes] | None = None
        self.deaths = 0
        self._started_at = 0.0
        self._not_before = 0.0
        self._log_began_at = 0

    def start(self) -> None:
        """Start it; it is sent SIGTERM when we die (on Linux)."""
        if self.deaths:
            self.pipe.wait_until_read()  # what follows are this start's words
        self._log_began_at = self.log.stat().st_size if self.log.exists() else 0
        self.child = subprocess.Popen(
            self.words,
            cwd=self.folder,
            env=self.env,
            stdin=subprocess.DEVNULL,
            stdout=self.pipe.writes,
            stderr=self.pipe.writes,
            start_new_session=True,  # Ctrl-C reaches us alone; we end the others in order
            preexec_fn=process.ends_with_parent(signal.SIGTERM),
        )
        self._started_at = time.monotonic()

    def is_running(self) -> bool:
        """Tell whether the process lives."""
        return self.child is not None and self.child.poll() is None

    def death(self) -> int | None:
        """Return the exit status of a process that has just died, once; a signal counts as negative."""
        if self.child is None or self.child.poll() is None:
            return None
        status = self.child.returncode
        now = time.monotonic()
        self.deaths = 1 if now - self._started_at > SETTLED_S else self.deaths + 1
        self._not_before = now + min(LONGEST_PAUSE_S, FIRST_PAUSE_S * 2 ** (self.deaths - 1))
        self.child = None
        return status

    def is_due(self) -> bool:
        """Tell whether a dead program's pause is over."""
        return self.child is None and time.monotonic() >= self._not_before

    def last_words(self, lines: int = 12) -> str:
        """Return the end of what it has logged since its last start."""
        self.pipe.wait_until_read()
        if not self.log.exists():
            return ""
        written = self.log.read_bytes()
        since = self._log_began_at if self._log_began_at <= len(written) else 0  # a new file was begun
        said = written[since:].decode(errors="replace")
        return "\n".join(said.splitlines()[-lines:])


def end(programs: Sequence[Program]) -> None:
    """Ask all to end, wait, and kill what is left, with the processes it started."""
    alive = [
        program.child for program in programs if program.child is not None and program.child.poll() is None
    ]
    for child in alive:
        child.send_signal(signal.SIGTERM)
    deadline = time.monotonic() + END_PATIENCE_S
    for child in alive:
        try:
            child.wait(max(0.1, deadline - time.monotonic()))
        except subprocess.TimeoutExpired:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(child.pid, signal.SIGKILL)  # a session of its own: the group is the child's
            child.wait()


def note_children(data: Path, programs: Sequence[Program]) -> None:
    """Write down who our children are, for a successor that finds them without us."""
    known = [process.identify(program.child.pid) for program in programs if program.child is not None]
    facts = [{"pid": identity.pid, "started": identity.started} for identity in known if identity]
    half = data / f"{CHILDREN_FILE}.new"
    half.write_text(json.dumps(facts), encoding="utf-8")
    half.replace(data / CHILDREN_FILE)


def end_orphans(data: Path) -> bool:
    """End the children of a predecessor that died without ending them; tell whether it left any note.

    A number counts only together with its time of start, so that nobody else's process is ever hit.
    Call it only while holding the data folder's lock.
    """
    try:
        facts = json.loads((data / CHILDREN_FILE).read_text(encoding="utf-8"))
        orphans = [process.Identity(fact["pid"], fact["started"]) for fact in facts]
    except (OSError, ValueError, KeyError, TypeError):
        return False
    _ask(orphans, signal.SIGTERM)
    deadline = time.monotonic() + END_PATIENCE_S
    while any(process.is_alive(orphan) for orphan in orphans) and time.monotonic() < deadline:
        time.sleep(0.05)
    _ask(orphans, signal.SIGKILL)
    (data / CHILDREN_FILE).unlink(missing_ok=True)
    return True


def _ask(orphans: Sequence[process.Identity], number: signal.Signals) -> None:
    for orphan in orphans:
        if process.is_alive(orphan):
            with contextlib.suppress(ProcessLookupError):
                os.kill(orphan.pid, number)
