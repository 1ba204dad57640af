"""The supervisor's end of the logs: a pipe for each program, and the process that reads them. No Django here.

Both ends stay open here, so a program that is started again writes on into the same pipe, and a log writer that dies is
followed by one that reads on where it stopped.
"""

import contextlib
import fcntl
import os
import subprocess
import sys
import termios
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from bibrack.log_writer import LIMIT_BYTES

WRITER = Path(__file__).with_name("log_writer.py")
ROOMY_BYTES = 1 << 20  # as much as Linux gives an ordinary user
DRAIN_PATIENCE_S = 2.0
END_PATIENCE_S = 5.0


@dataclass(frozen=True)
class Pipe:
    """Where one program's words go."""

    reads: int
    writes: int

    def wait_until_read(self) -> None:
        """Wait until the log writer has all that was said so far, so that the file can be read."""
        deadline = time.monotonic() + DRAIN_PATIENCE_S
        while _waiting_bytes(self.reads) and time.monotonic() < deadline:
            time.sleep(0.01)
        time.sleep(0.2)  # for what it has read and not yet written


def _waiting_bytes(descriptor: int) -> int:
    answer = fcntl.ioctl(descriptor, termios.FIONREAD, b"\0\0\0\0")
    return int.from_bytes(answer, sys.byteorder)


class LogPipes:
    """The pipes of one installation, and their writer."""

    def __init__(self, folder: Path, names: Sequence[str], *, limit: int = LIMIT_BYTES) -> None:
        """Make a pipe for each name; a log file holds `limit` bytes at most, and a line."""
        folder.mkdir(mode=0o700, exist_ok=True)
        self.folder = folder
        self.limit = limit
        self.pipes = {name: _roomy_pipe() for name in names}
        self.writer: subprocess.Popen[bytes] | None = None

    def __getitem__(self, name: str) -> Pipe:
        return self.pipes[name]

    def keep_writing(self) -> None:
        """Start the writer when none lives. Its working folder is the logs': it holds no other open."""
        if self.writer is not None and self.writer.poll() is None:
            return
        reads = [pipe.reads for pipe in self.pipes.values()]
        named = [f"{name}={pipe.reads}" for name, pipe in self.pipes.items()]
        self.writer = subprocess.Popen(
            [sys.executable, "-I", "-S", str(WRITER), str(self.folder), str(self.limit), *named],
            pass_fds=reads,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            cwd=self.folder,
            start_new_session=True,  # it ends last, by itself: when nobody can write any more
        )

    def close(self) -> None:
        """Let the writer finish. Somebody's grandchild may still hold a pipe: then it goes on without us."""
        for pipe in self.pipes.values():
            os.close(pipe.writes)
            os.close(pipe.reads)
        if self.writer is not None:
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.writer.wait(END_PATIENCE_S)


def _roomy_pipe() -> Pipe:
    reads, writes = os.pipe()
    with contextlib.suppress(OSError, AttributeError):
        fcntl.fcntl(writes, fcntl.F_SETPIPE_SZ, ROOMY_BYTES)
    return Pipe(reads, writes)
