import os
import subprocess
import sys
from pathlib import Path

from bibrack.postgres.process import Identity, identify, is_alive, is_postgres_on, postgres_processes_on


def test_a_number_counts_only_with_its_time_of_start() -> None:
    me = identify(os.getpid())
    assert me is not None
    assert is_alive(me)
    assert not is_alive(Identity(me.pid, "another time"))


def test_a_process_that_ended_is_nobody() -> None:
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    assert identify(child.pid) is None


def test_one_that_ended_but_was_not_waited_for_is_nobody() -> None:
    child = subprocess.Popen([sys.executable, "-c", ""], stdout=subprocess.PIPE)
    assert child.stdout is not None
    child.stdout.read()  # ends when the child does
    child.stdout.close()
    os.waitid(os.P_PID, child.pid, os.WEXITED | os.WNOWAIT)
    assert identify(child.pid) is None
    child.wait()


def test_this_python_is_no_postgres_even_in_that_folder() -> None:
    assert not is_postgres_on(os.getpid(), Path.cwd())
    assert postgres_processes_on(Path("/nowhere")) == []
