import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from bibrack.log_pipes import LogPipes
from bibrack.postgres.process import identify
from bibrack.programs import CHILDREN_FILE, Program, end, end_orphans, note_children

SLEEP = [sys.executable, "-c", "import time; time.sleep(60)"]


@pytest.fixture
def pipes(tmp_path: Path) -> Iterator[LogPipes]:
    pipes = LogPipes(tmp_path / "log", ["sleeper"])
    pipes.keep_writing()
    yield pipes
    pipes.close()


def sleeper(pipes: LogPipes, words: list[str] | None = None) -> Program:
    log = pipes.folder / "sleeper.log"
    return Program(
        "sleeper",
        words or SLEEP,
        folder=pipes.folder.parent,
        env=dict(os.environ),
        log=log,
        pipe=pipes["sleeper"],
    )


def test_a_dead_program_is_reported_once_and_waits_longer_each_time(pipes: LogPipes) -> None:
    program = sleeper(pipes, [sys.executable, "-c", "print('no way'); raise SystemExit(3)"])
    pauses = []
    for _ in range(3):
        program.start()
        assert program.child is not None
        program.child.wait()
        assert (program.death(), program.death()) == (3, None)
        assert not program.is_due()
        pauses.append(round(program._not_before - time.monotonic(), 1))
    assert pauses == [0.5, 1.0, 2.0]
    assert program.last_words() == "no way"


def test_ending_ends_what_will_not_listen(pipes: LogPipes, monkeypatch) -> None:
    monkeypatch.setattr("bibrack.programs.END_PATIENCE_S", 0.3)
    deaf = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print('deaf', flush=True); time.sleep(60)"
    program = sleeper(pipes, [sys.executable, "-c", deaf])
    program.start()
    assert program.child is not None
    while not program.last_words():
        time.sleep(0.02)
    end([program])
    assert program.child.returncode == -signal.SIGKILL


def test_orphans_are_ended_and_a_namesake_is_left_alone(tmp_path: Path, pipes: LogPipes) -> None:
    orphan = sleeper(pipes)
    orphan.start()
    note_children(tmp_path, [orphan])
    bystander = subprocess.Popen(SLEEP)
    facts = json.loads((tmp_path / CHILDREN_FILE).read_text())
    facts.append({"pid": bystander.pid, "started": "at another time"})
    (tmp_path / CHILDREN_FILE).write_text(json.dumps(facts))
    try:
        assert end_orphans(tmp_path)
        assert orphan.child is not None
        assert orphan.child.wait(5) == -signal.SIGTERM
        assert identify(bystander.pid) is not None
        assert not (tmp_path / CHILDREN_FILE).exists()
    finally:
        bystander.kill()
        bystander.wait()


def test_no_note_or_a_broken_one_is_no_orphan(tmp_path: Path) -> None:
    assert not end_orphans(tmp_path)
    (tmp_path / CHILDREN_FILE).write_text('[{"pid": "x"')
    assert not end_orphans(tmp_path)
