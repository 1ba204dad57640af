"""Logs of `make run`: bounded while it runs, every line once and whole, and nobody waits for who reads them."""

import os
import random
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from bibrack.log_pipes import LogPipes
from bibrack.log_writer import LONGEST_LINE, OLD_FILES, LogFile
from tests.harness.installation import ROOT, until


def in_order(log: Path) -> list[Path]:
    """The files of a log, the oldest first."""
    old = sorted(log.parent.glob(f"{log.name}.*"), key=lambda each: -int(each.suffix[1:]))
    return [*old, log]


def lines(log: Path) -> list[str]:
    return [line for each in in_order(log) for line in each.read_text().splitlines()]


def test_files_are_cut_between_lines_and_the_oldest_goes(tmp_path: Path) -> None:
    log = LogFile(tmp_path / "web.log", limit=1000)
    chance = random.Random(9)
    said = [f"{number:05} {'x' * chance.randrange(60)}" for number in range(400)]
    stream = "".join(f"{line}\n" for line in said).encode()
    while stream:
        size = chance.randrange(1, 3000)
        log.take(stream[:size])
        stream = stream[size:]
    files = in_order(tmp_path / "web.log")
    assert len(files) == OLD_FILES + 1
    assert max(each.stat().st_size for each in files) <= 1000 + 67
    assert min(each.stat().st_size for each in files[:-1]) >= 1000
    kept = lines(tmp_path / "web.log")
    assert kept == said[-len(kept) :]


def test_a_log_that_is_there_already_counts(tmp_path: Path) -> None:
    (tmp_path / "web.log").write_bytes(b"old\n" * 300)
    LogFile(tmp_path / "web.log", limit=1000).take(b"new\n")
    assert [each.stat().st_size for each in in_order(tmp_path / "web.log")] == [1200, 4]
    assert (tmp_path / "web.log").stat().st_mode & 0o777 == 0o600


def test_a_line_without_an_end_is_bounded_too(tmp_path: Path) -> None:
    log = LogFile(tmp_path / "web.log", limit=1000)
    for _ in range(40):
        log.take(b"x" * 50_000)
    files = in_order(tmp_path / "web.log")
    assert len(files) == OLD_FILES + 1
    assert max(each.stat().st_size for each in files) <= 1000 + 2 * LONGEST_LINE


def test_a_full_disk_holds_up_nobody_and_is_noted_when_there_is_room(tmp_path: Path) -> None:
    """/dev/full refuses each write as a full disk does."""
    path = tmp_path / "web.log"
    path.symlink_to("/dev/full")
    log = LogFile(path, limit=1000)
    for _ in range(100):
        log.take(b"no room for this\n")
    assert log.lost == 1700
    path.unlink()
    log._turn()
    log.take(b"again\n")
    assert path.read_text() == "1700 bytes of this log could not be written.\nagain\n"


# --- with processes -----------------------------------------------------------------------------------------

CHATTERBOX = """
import os, signal, sys, time
signal.signal(signal.SIGTERM, signal.SIG_IGN)
folder, parent = sys.argv[1], os.getppid()
def say(word):
    for number in range(40_000):
        print(f"{word} {number:05} {'x' * 40}", flush=True)
    open(f"{folder}/{word}", "w").close()
say("first")
while os.getppid() == parent:
    time.sleep(0.01)
say("second")
"""

SUPERVISOR = """
import os, signal, sys
from pathlib import Path
from bibrack.log_pipes import LogPipes
from bibrack.programs import Program
folder = Path(sys.argv[1])
pipes = LogPipes(folder / "log", ["web"])
pipes.keep_writing()
words = [sys.executable, "-c", sys.argv[2], str(folder)]
Program("web", words, folder=folder, env=dict(os.environ), log=folder / "log/web.log", pipe=pipes["web"]).start()
os.kill(os.getpid(), signal.SIGSTOP)
"""


def state(pid: int) -> str:
    return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]


def test_a_supervisor_that_hangs_or_dies_holds_up_no_program_and_loses_no_line(tmp_path: Path) -> None:
    """Each time the program says three times what a pipe holds."""
    supervisor = subprocess.Popen(
        [sys.executable, "-c", SUPERVISOR, str(tmp_path), CHATTERBOX],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    try:
        assert until((tmp_path / "first").exists)
        assert until(lambda: state(supervisor.pid) == "T")
    finally:
        supervisor.kill()
        supervisor.wait()
    assert until((tmp_path / "second").exists)
    log = tmp_path / "log" / "web.log"
    assert until(lambda: "second 39999" in log.read_text())
    said = [f"{word} {number:05} {'x' * 40}" for word in ("first", "second") for number in range(40_000)]
    assert lines(log) == said


@pytest.fixture
def pipes(tmp_path: Path) -> Iterator[LogPipes]:
    pipes = LogPipes(tmp_path / "log", ["web"])
    pipes.keep_writing()
    yield pipes
    pipes.close()


def test_a_writer_that_dies_is_followed_by_one_that_reads_on(pipes: LogPipes) -> None:
    os.write(pipes["web"].writes, b"before\n")
    pipes["web"].wait_until_read()
    assert pipes.writer is not None
    pipes.writer.send_signal(signal.SIGKILL)
    pipes.writer.wait()
    os.write(pipes["web"].writes, b"meanwhile\n")
    pipes.keep_writing()
    pipes.keep_writing()
    os.write(pipes["web"].writes, b"after\n")
    assert until(lambda: lines(pipes.folder / "web.log") == ["before", "meanwhile", "after"])


def test_several_programs_write_while_files_are_turned_each_into_its_own(tmp_path: Path) -> None:
    pipes = LogPipes(tmp_path / "log", ["web", "worker"], limit=5_000)
    pipes.keep_writing()
    loud = "import os, sys\nfor n in range(700): os.write(1, f'{sys.argv[1]} {n:04}\\n'.encode())"
    children = [
        subprocess.Popen([sys.executable, "-c", loud, f"{name}{twin}"], stdout=pipes[name].writes)
        for name in ("web", "worker")
        for twin in (1, 2)
    ]
    assert [child.wait() for child in children] == [0, 0, 0, 0]
    pipes.close()
    for name in ("web", "worker"):
        log = tmp_path / "log" / f"{name}.log"
        said = lines(log)
        assert len(in_order(log)) > 1
        assert sorted(said) == [f"{name}{twin} {n:04}" for twin in (1, 2) for n in range(700)]
        assert all(re.fullmatch(rf"{name}[12] \d{{4}}", line) for line in said)


def test_the_writer_ends_when_everybody_has(tmp_path: Path) -> None:
    pipes = LogPipes(tmp_path / "log", ["web"])
    pipes.keep_writing()
    os.write(pipes["web"].writes, b"the last words")
    pipes["web"].wait_until_read()
    assert pipes.writer is not None
    for number in (signal.SIGINT, signal.SIGTERM):
        pipes.writer.send_signal(number)
    pipes.close()
    assert pipes.writer.returncode is not None
    assert lines(tmp_path / "log" / "web.log") == ["the last words"]
