"""`make run` from outside: one installation started, hurt, and stopped, in a process of its own."""

import os
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from bibrack.postgres.process import identify
from tests.harness.free_port import free_port
from tests.harness.house import House, until

pytestmark = pytest.mark.tx


@pytest.fixture
def house(data: Path) -> Iterator[House]:
    house = House(data.with_name("the club's data"), free_port())
    yield house
    if house.child is not None and house.child.poll() is None:
        house.stop()


def test_it_starts_heals_starts_again_and_stops(house: House) -> None:
    house.start()
    assert until(house.answers)
    assert until(lambda: house.answers("/readyz"))  # the worker has been heard of
    assert (house.data / "secret_key").stat().st_mode & 0o777 == 0o600
    assert not (house.data / "ways-in.txt").exists()
    assert house.styles() != []
    assert [each for each in house.styles() if not house.answers(each)] == [], "on the very first start"

    assert "database system is ready" in (house.data / "log" / "postgres.log").read_text()

    web, worker = house.children()
    database = house.database()
    assert isinstance(database, int)
    for pid in (worker, web, database):
        os.kill(pid, signal.SIGKILL)
    assert until(lambda: not {web, worker} & set(house.children()) and len(house.children()) == 2)
    assert until(lambda: house.database() not in (database, None))
    assert until(lambda: house.answers("/readyz"))
    assert not (house.data / "ways-in.txt").exists(), "a web server that was started again makes no new links"

    # The supervisor itself is killed: the next start just works, at once, on the same port and folder.
    assert house.child is not None
    house.child.kill()
    healed, _ = house.child.communicate()
    for name in ("worker", "web server", "database"):
        assert f"The {name} stopped" in healed
    (house.data / "ways-in.txt").write_text("what a killed start left behind")
    house.start()
    assert until(lambda: house.supervisor() == house.child.pid and len(house.children()) == 2)
    assert not (house.data / "ways-in.txt").exists()
    assert until(house.answers)

    everyone = [*house.children(), int(str(house.database()))]
    status, printed = house.stop()
    assert status == 0
    assert f"Bibrack is ready at http://localhost:{house.port}/" in printed
    assert "/set-up/" in printed, "an empty club is offered its first administrator's link"
    assert [pid for pid in everyone if identify(pid)] == []
    assert not (house.data / "run.json").exists()


def test_a_taken_port_is_one_clear_line(house: House) -> None:
    import socket

    with socket.socket() as other:
        other.bind(("127.0.0.1", house.port))
        other.listen()
        refused = subprocess.run(
            house.command(), env=house.env, cwd="/", capture_output=True, text=True, check=False
        )
    assert (refused.returncode, refused.stdout) == (1, "")
    assert refused.stderr.splitlines() == [
        f"Port {house.port} on 127.0.0.1 cannot be used (Address already in use): "
        f"choose another, as in PORT={house.port + 1} make run"
    ]


def test_a_port_that_is_none_is_one_clear_line(house: House) -> None:
    env = {**house.env, "PORT": "eighty"}
    refused = subprocess.run(house.command(), env=env, cwd="/", capture_output=True, text=True, check=False)
    assert refused.stderr == "PORT must be a number from 1 to 65535, not 'eighty'.\n"
