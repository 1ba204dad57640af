"""The compose file's own commands, in its order, without containers: prepare, serve, work, be healthy."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest

from bibrack.postgres.server import Server
from tests.docker.test_compose import ROOT, postgres_settings, services
from tests.harness.free_port import free_port

pytestmark = pytest.mark.tx


@pytest.fixture
def environment(tmp_path: Path, data: Path) -> Iterator[dict[str, str]]:
    """What the compose file sets, with the secrets' files and the database of this test."""
    with Server(data, kept=False) as server:
        given = {str(key): str(value) for key, value in services()["web"]["environment"].items()}
        for name, secret in {
            "SECRET_KEY_FILE": "a secret for this test alone",
            "DATABASE_URL_FILE": server.url,
            "EMAIL_URL_FILE": "",
        }.items():
            file = tmp_path / name
            file.write_text(secret)
            given[name] = str(file)
        yield {
            "PATH": os.environ["PATH"],
            "PYTHONPATH": str(ROOT),
            **given,
            "SITE_URL": "https://club.example",
            "EMAIL_FROM": "",
            "TIME_ZONE": "Europe/London",
            "DATA_DIR": str(tmp_path),
            "HOST": "127.0.0.1",
            "PORT": str(free_port()),
        }


def words(service: dict[str, Any], key: str = "command") -> list[str]:
    """Return a service's command, or its health check's, with this Python."""
    found = service["command"] if key == "command" else service["healthcheck"]["test"][1:]
    assert found[0] == "python"
    return [sys.executable, *found[1:]]


def run(command: list[str], environment: dict[str, str]) -> str:
    """Run it to its end; return all that it said, as the container's log would have it."""
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=environment,
        check=True,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    return done.stdout


def healthy(name: str, environment: dict[str, str], patience_s: float = 30.0) -> bool:
    """Ask the service's own health check until it is content."""
    deadline = time.monotonic() + patience_s
    while time.monotonic() < deadline:
        asked = subprocess.run(
            words(services()[name], "healthcheck"), cwd=ROOT, env=environment, capture_output=True
        )
        if asked.returncode == 0:
            return True
        time.sleep(0.3)
    return False


def test_the_commands_of_the_compose_file_bring_up_a_healthy_site(environment: dict[str, str]) -> None:
    said = run(words(services()["migrate"]), environment)
    with psycopg.connect(Path(environment["DATABASE_URL_FILE"]).read_text()) as connection:
        (clubs,) = connection.execute("SELECT count(*) FROM club_clubsettings").fetchone() or (None,)
        known = {name for (name,) in connection.execute("SELECT name FROM pg_settings")}
    assert clubs == 0, "the compose file starts a real club: no demo data"
    assert set(postgres_settings()) <= known
    assert ("/set-up/" in said, "`python manage.py set_up_link` prints" in said) == (False, True)
    printed = run([sys.executable, "manage.py", "set_up_link"], environment).split()[-1]
    assert printed.startswith("https://club.example/set-up/")
    assert not healthy("web", environment, 0.1)
    children = [
        subprocess.Popen(words(services()[name]), cwd=ROOT, env=environment) for name in ("web", "worker")
    ]
    try:
        assert healthy("web", environment)
        assert healthy("worker", environment)
    finally:
        for child in children:
            child.terminate()
        assert [child.wait(30) for child in children] == [0, 0]
