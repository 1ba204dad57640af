"""The one process that writes the logs of `make run`: `python log_writer.py FOLDER LIMIT name=descriptor …`.

It reads what each program says from a pipe and writes it to FOLDER/name.log, turning to a new file when that one is
full. It is apart from the supervisor, so that one that hangs or dies holds up nobody; it ends when the last program
has closed its pipe. Nothing of ours and little of Python's is imported: it stays small.
"""

import itertools
import os
import select
import signal
import sys
from pathlib import Path

LIMIT_BYTES = 5_000_000
OLD_FILES = 3  # name.log.1 is the newest of them
LONGEST_LINE = 65_536
CHUNK = 65_536


class LogFile:
    """A log that is never longer than its limit and a line, with its last few predecessors beside it."""

    def __init__(self, path: Path, limit: int = LIMIT_BYTES) -> None:
        self.path = path
        self.limit = limit
        self.size = 0
        self.lost = 0
        self._descriptor: int | None = None
        self._in_a_line = False

    def take(self, chunk: bytes) -> None:
        """Write it down, cutting between two lines where the file is full. What a full disk refuses is counted."""
        if self._descriptor is None:
            self._open()
        while chunk:
            if self.size >= self.limit and (not self._in_a_line or self.size >= self.limit + LONGEST_LINE):
                self._turn()
            cut = self._cut(chunk)
            self._write(chunk[:cut])
            self._in_a_line = not chunk[:cut].endswith(b"\n")
            chunk = chunk[cut:]

    def _cut(self, chunk: bytes) -> int:
        """Return how much of it belongs into this file: up to the end of the line that fills it."""
        if self.size + len(chunk) <= self.limit:
            return len(chunk)
        end = chunk.find(b"\n", max(0, self.limit - self.size - 1)) + 1
        return end or min(len(chunk), LONGEST_LINE)

    def _write(self, part: bytes) -> None:
        try:
            if self.lost and self._descriptor is not None:
                note = f"{self.lost} bytes of this log could not be written.\n".encode()
                self.size += os.write(self._descriptor, note)
                self.lost = 0
            while part:
                if self._descriptor is None:
                    raise OSError("no file")
                written = os.write(self._descriptor, part)
                self.size += written
                part = part[written:]
        except OSError:  # the disk is full, say: whoever logs must not be held up by it
            self.lost += len(part)

    def _open(self) -> None:
        try:
            self._descriptor = os.open(self.path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
            self.size = os.fstat(self._descriptor).st_size
        except OSError:
            self._descriptor = None

    def _turn(self) -> None:
        if self._descriptor is not None:
            os.close(self._descriptor)
            self._descriptor = None
        names = [self.path, *(self.path.with_name(f"{self.path.name}.{n}") for n in range(1, OLD_FILES + 1))]
        for younger, older in reversed(list(itertools.pairwise(names))):
            try:
                younger.replace(older)
            except OSError:
                continue
        self._open()


def write_until_closed(files: dict[int, LogFile]) -> None:
    """Read all pipes and write their files until every writer is gone."""
    poll = select.poll()
    for descriptor in files:
        poll.register(descriptor, select.POLLIN)
    while files:
        for descriptor, _ in poll.poll():
            chunk = os.read(descriptor, CHUNK)
            if chunk:
                files[descriptor].take(chunk)
            else:
                poll.unregister(descriptor)
                del files[descriptor]


def main(words: list[str]) -> None:
    """Write."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the last words are still to come
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    folder, limit = Path(words[0]), int(words[1])
    named = (word.rpartition("=") for word in words[2:])
    write_until_closed(
        {int(descriptor): LogFile(folder / f"{name}.log", limit) for name, _, descriptor in named}
    )


if __name__ == "__main__":
    main(sys.argv[1:])
