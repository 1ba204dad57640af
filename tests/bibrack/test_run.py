"""`make run` from outside: one installation started, hurt, and stopped, in a process of its own."""

import os
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from bibrack.postgres.process import identify
from tests.harness.free_port import free_port
from tests.harness.installation import Installation, until

pytestmark = pytest.mark.tx


@pytest.fixture
def installation(data: Path) -> Iterator[Installation]:
    installation = Installation(data.with_name("the club's data"), free_port())
    yield installation
    if installation.child is not None and installation.child.poll() is None:
        installation.stop()


def test_it_starts_heals_starts_again_and_stops(installation: Installation) -> None:
    installation.start()
    assert until(installation.answers)
    assert until(lambda: installation.answers("/readyz"))  # the worker has been heard of
    assert (installation.data / "secret_key").stat().st_mode & 0o777 == 0o600
    assert not (installation.data / "ways-in.txt").exists()
    assert installation.styles() != []
    assert [each for each in installation.styles() if not installation.answers(each)] == [], (
        "on the very first start"
    )

    assert "database system is ready" in (installation.data / "log" / "postgres.log").read_text()

    web, worker = installation.children()
    database = installation.database()
    assert isinstance(database, int)
    for pid in (worker, web, database):
        os.kill(pid, signal.SIGKILL)
    assert until(
        lambda: not {web, worker} & set(installation.children()) and len(installation.children()) == 2
    )
    assert until(lambda: installation.database() not in (database, None))
    assert until(lambda: installation.answers("/readyz"))
    assert not (installation.data / "ways-in.txt").exists(), (
        "a web server that was started again makes no new links"
    )

    # The supervisor itself is killed: the next start just works, at once, on the same port and folder.
    assert installation.child is not None
    installation.child.kill()
    healed, _ = installation.child.communicate()
    for name in ("worker", "web server", "database"):
        assert f"The {name} stopped" in healed
    (installation.data / "ways-in.txt").write_text("what a killed start left behind")
    installation.start()
    assert until(
        lambda: installation.supervisor() == installation.child.pid and len(installation.children()) == 2
    )
    assert not (installation.data / "ways-in.txt").exists()
    assert until(installation.answers)

    everyone = [*installation.children(), int(str(installation.database()))]
    status, printed = installation.stop()
    assert status == 0
    assert f"Bibrack is ready at http://localhost:{installation.port}/" in printed
    assert "/set-up/" in printed, "an empty club is offered its first administrator's link"
    assert [pid for pid in everyone if identify(pid)] == []
    assert not (installation.data / "run.json").exists()


def test_a_taken_port_is_one_clear_line(installation: Installation) -> None:
    import socket

    with socket.socket() as other:
        other.bind(("127.0.0.1", installation.port))
        other.listen()
        refused = subprocess.run(
            installation.command(), env=installation.env, cwd="/", capture_output=True, text=True, check=False
        )
    assert (refused.returncode, refused.stdout) == (1, "")
    assert refused.stderr.splitlines() == [
        f"Port {installation.port} on 127.0.0.1 cannot be used (Address already in use): "
        f"choose another, as in PORT={installation.port + 1} make run"
    ]


def test_a_port_that_is_none_is_one_clear_line(installation: Installation) -> None:
    env = {**installation.env, "PORT": "eighty"}
    refused = subprocess.run(
        installation.command(), env=env, cwd="/", capture_output=True, text=True, check=False
    )
    assert refused.stderr == "PORT must be a number from 1 to 65535, not 'eighty'.\n"
