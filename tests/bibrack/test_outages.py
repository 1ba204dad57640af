"""What people, monitors and the administrator are told when the database or the disk gives up. Real errors of PostgreSQL."""

import errno
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from io import StringIO
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import psycopg
import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import OperationalError, connection
from django.test import Client
from psycopg_pool import PoolTimeout
from structlog.testing import capture_logs

from bibrack import outages
from bibrack.outages import outage_of
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _nothing_seen_and_room(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(outages._Seen, "disk_full_at", None)
    room(monkeypatch, mb=10_000)


def room(monkeypatch: pytest.MonkeyPatch, mb: int) -> None:
    monkeypatch.setattr(outages.shutil, "disk_usage", lambda folder: SimpleNamespace(free=mb * 1_000_000))


@contextmanager
def failing(code: str, table: str = "club_kitstock") -> Iterator[None]:
    """Have the database itself raise this error as soon as this table is asked."""

    def fail(execute: Callable, sql: str, params: Any, many: bool, context: Any) -> Any:
        if table in sql:
            words = f"DO $$ BEGIN RAISE EXCEPTION 'as the server says' USING ERRCODE = '{code}'; END $$"
            return execute(words, None, False, context)
        return execute(sql, params, many, context)

    with connection.execute_wrapper(fail):
        yield


CAUSES = [
    ("53100", 507, "disk is full", None),
    ("25006", 503, "only answers questions", None),
    ("58030", 503, "its files", None),
    ("53300", 503, "Too many are asking", "5"),
    ("57014", 503, "took too long", "5"),
    ("40P01", 503, "at the same moment", "1"),
    ("57P01", 503, "stopping or starting", "10"),
    ("08006", 503, "is away", "10"),
]


@pytest.mark.parametrize(("code", "status", "words", "again"), CAUSES)
@pytest.mark.parametrize("address", ["/club/kit/", "/api/v1/kit/"])
def test_each_cause_has_its_sentence_its_status_and_a_line_in_the_log(
    world: World, address: str, code: str, status: int, words: str, again: str | None
) -> None:
    client = signed_in(world.people.director)
    client.raise_request_exception = False
    with failing(code), capture_logs() as lines:
        response = client.get(address)
    text = response.json()["detail"] if address.startswith("/api/") else response.content.decode()
    assert (response.status_code, response.headers.get("Retry-After")) == (status, again)
    assert words in text.replace("&#x27;", "'")
    assert [(line["sqlstate"], line["detail"]) for line in lines if line["event"] == "outage"] == [
        (code, "as the server says")
    ]


def test_a_mistake_of_ours_stays_one(world: World) -> None:
    client = signed_in(world.people.director)
    client.raise_request_exception = False
    with failing("42703"):
        assert client.get("/club/kit/").status_code == 500


def test_a_statement_that_takes_too_long_and_a_write_where_none_is_taken(world: World) -> None:
    """As the server itself ends them."""
    found = []
    for setting, statement in (
        ("statement_timeout = '1ms'", "SELECT pg_sleep(5)"),
        ("transaction_read_only = on", "CREATE TABLE nothing (id int)"),
    ):
        with psycopg.connect(_address()) as other:
            other.execute(f"SET {setting}")
            with pytest.raises(psycopg.Error) as raised:
                other.execute(statement)
        found.append(outage_of(raised.value))
    assert found == [outages.TOO_SLOW, outages.READ_ONLY]


def _address(**changes: Any) -> str:
    given = {
        name: value
        for name, value in connection.get_connection_params().items()
        if name in ("dbname", "user", "host", "port", "password")
    }
    return psycopg.conninfo.make_conninfo(**{**given, **changes})


def refused(address: str) -> outages.Outage | None:
    with pytest.raises(psycopg.Error) as raised:
        psycopg.connect(address, connect_timeout=5)
    return outage_of(raised.value)


def test_connections_that_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))  # bound, and nobody listens
        nobody = _address(host="127.0.0.1", port=taken.getsockname()[1])
        assert refused(nobody) == outages.AWAY
        room(monkeypatch, mb=3)
        assert refused(nobody) == outages.DISK_FULL, "a server without room ends, and does not come back"


def test_why_the_pool_had_no_connection_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    waited = psycopg_pool_timeout()
    assert outage_of(waited) == outages.TOO_MANY
    given = connection.get_connection_params()
    monkeypatch.setattr(connection, "get_connection_params", lambda: {**given, "host": "/nowhere"})
    assert outage_of(waited) == outages.AWAY
    for words, cause in {
        "FATAL:  sorry, too many clients already": outages.TOO_MANY,
        "FATAL:  the database system is starting up": outages.RESTARTS,
        'FATAL:  could not write init file: "No space left on device"': outages.DISK_FULL,
    }.items():
        assert outage_of(psycopg.OperationalError(f"connection failed: {words}")) == cause


def psycopg_pool_timeout() -> Exception:
    try:
        raise OperationalError("couldn't get a connection after 10.00 sec") from PoolTimeout("in vain")
    except OperationalError as error:
        return error


def test_a_full_disk_is_known_by_the_systems_own_word_too() -> None:
    assert outage_of(OSError(errno.ENOSPC, "No space left on device")) == outages.DISK_FULL
    assert outage_of(OSError(errno.ENOENT, "No such file")) is None


@pytest.mark.parametrize("address", ["/healthz", "/readyz"])
def test_monitors_hear_of_a_full_disk_and_of_one_that_fills(
    address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with connection.cursor() as cursor:
        cursor.execute("INSERT INTO procrastinate_workers (last_heartbeat) VALUES (now())")
    assert "warning" not in Client().get(address).json()
    room(monkeypatch, mb=300)
    low = Client().get(address).json()
    room(monkeypatch, mb=10)
    full = Client().get(address)
    assert "300" in str(low)
    assert (full.status_code, full["Content-Type"]) == (507, "application/problem+json")


def test_monitors_hear_of_a_disk_elsewhere_that_refused_a_write_just_now(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    outages.note(psycopg.errors.DiskFull("could not extend file"))
    assert Client().get("/healthz").status_code == 507
    monkeypatch.setattr(outages, "SEEN_LATELY_S", 0.0)
    assert Client().get("/healthz").status_code == 200


def test_monitors_hear_of_a_database_that_takes_no_writes() -> None:
    with connection.cursor() as cursor:
        cursor.execute("SET transaction_read_only = on")
    response = Client().get("/healthz")
    assert (response.status_code, response.json()["detail"]) == (503, str(outages.READ_ONLY.words))


def test_commands_that_start_things_say_it_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bibrack.management.commands.prepare.collect_static", lambda: None)
    with failing("53100", "FROM bibrack_epoch"), pytest.raises(CommandError, match="disk is full"):
        call_command("prepare", no_demo=True)


def test_a_worker_without_a_database_says_it_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bibrack.management.commands.work.os.nice", lambda by: 0)
    with failing("57P03", "drills_drill"), pytest.raises(CommandError, match="stopping or starting"):
        call_command("work")


def doctor() -> str:
    said = StringIO()
    with suppress(CommandError):
        call_command("doctor", stdout=said)
    return said.getvalue()


def test_the_doctor_warns_before_the_disk_is_full(
    settings: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.DATA_DIR = tmp_path
    healthy = doctor()
    room(monkeypatch, mb=300)
    low = doctor()
    room(monkeypatch, mb=3)
    assert "ok   10000 MB free for data." in healthy
    assert f"ok   The data folder {tmp_path} can be written to." in healthy
    assert "BAD  300 MB free for data, below 500 MB: make room before the disk is full." in low
    assert "BAD  The disk is full (3 MB free)" in doctor()


def test_the_doctor_says_why_nothing_can_be_written(settings: Any, tmp_path: Path) -> None:
    settings.DATA_DIR = tmp_path / "a file"
    settings.DATA_DIR.touch()
    assert f"BAD  The data folder {settings.DATA_DIR} cannot be written to: Not a directory." in doctor()
    with failing("57P03", "procrastinate_workers"):
        assert "BAD  The database is stopping or starting." in doctor()
