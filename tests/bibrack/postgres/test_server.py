import os
import signal
import time
from pathlib import Path

import psycopg
import pytest

from bibrack.postgres import PostgresError, lock, process, where
from bibrack.postgres.server import Server
from tests.bibrack.postgres.helpers import ask, kill, start_keeper

pytestmark = pytest.mark.tx


def test_a_new_database_is_safe_private_and_ours(data: Path) -> None:
    with Server(data) as server:
        assert ask(server.url, "SHOW fsync") == "on"
        assert ask(server.url, "SHOW full_page_writes") == "on"
        assert ask(server.url, "SHOW listen_addresses") == ""
        assert ask(server.url, "SHOW server_encoding") == "UTF8"
        assert ask(server.url, "SELECT current_user") == "bibrack"
        assert ask(server.url, "SELECT rolsuper FROM pg_roles WHERE rolname = current_user") is False
        assert ask(server.url, "SELECT lower('ÄÉŠ')") == "äéš"
        assert server.places is not None
        assert server.places.socket.stat().st_mode & 0o777 == 0o700
        assert server.places.cluster.stat().st_mode & 0o777 == 0o700


def test_the_application_may_make_the_extensions_it_needs(data: Path) -> None:
    with Server(data, kept=False) as server:
        for name in ("unaccent", "pg_trgm", "btree_gist", "citext"):
            ask(server.url, f"CREATE EXTENSION {name}")
        assert ask(server.url, "SELECT unaccent('Übung')") == "Ubung"


def test_rows_outlive_a_stop_and_a_start(data: Path) -> None:
    with Server(data) as server:
        ask(server.url, "CREATE TABLE kept AS SELECT 7 AS n")
    assert not (data / where.RUN_FILE).exists()
    with Server(data) as server:
        assert ask(server.url, "SELECT n FROM kept") == 7


def test_rows_outlive_a_killed_server(data: Path) -> None:
    with Server(data) as server:
        ask(server.url, "CREATE TABLE kept AS SELECT generate_series(1, 1000) AS n")
        assert server.child is not None
        server.child.send_signal(signal.SIGKILL)
        server.child.wait()
        assert not server.is_running()
        server.restart()
        assert ask(server.url, "SELECT count(*) FROM kept") == 1000


def test_the_server_ends_with_its_keeper_and_the_next_start_finds_all_rows(data: Path) -> None:
    keeper, url, pid = start_keeper(data)
    ask(url, "CREATE TABLE kept AS SELECT generate_series(1, 1000) AS n")
    kill(keeper)
    with Server(data) as server:  # at once: it must wait for the old one by itself
        assert ask(server.url, "SELECT count(*) FROM kept") == 1000
        assert process.identify(pid) is None


def test_a_killed_server_and_keeper_leave_nothing_that_hinders(data: Path) -> None:
    keeper, url, pid = start_keeper(data)
    ask(url, "CREATE TABLE kept AS SELECT generate_series(1, 1000) AS n")
    os.kill(pid, signal.SIGKILL)
    kill(keeper)
    with Server(data) as server:
        assert ask(server.url, "SELECT count(*) FROM kept") == 1000


def test_a_stale_lock_naming_another_living_process_is_removed_and_that_process_left_alone(
    data: Path,
) -> None:
    with Server(data) as server:
        ask(server.url, "CREATE TABLE kept AS SELECT 7 AS n")
        assert server.places is not None
        cluster, socket = server.places.cluster, server.places.socket
    bystander, _, pid = start_keeper(data.with_name("another"))
    try:
        # Of the same account, alive, and even a PostgreSQL server: but not on this folder.
        (cluster / lock.LOCK_FILE).write_text(f"{pid}\n{cluster}\n1700000000\n5432\n\n\n\nready\n")
        (socket / ".s.PGSQL.5432.lock").write_text(f"{pid}\n{cluster}\n1700000000\n5432\n{socket}\n")
        assert lock.read(cluster) == (pid, "ready")
        with Server(data) as server:
            assert ask(server.url, "SELECT n FROM kept") == 7
        assert process.identify(pid) is not None
    finally:
        kill(bystander)


def test_two_at_once_on_two_folders(data: Path) -> None:
    with Server(data, kept=False) as one, Server(data.with_name("other"), kept=False) as two:
        ask(one.url, "CREATE TABLE mine AS SELECT 1 AS n")
        ask(two.url, "CREATE TABLE mine AS SELECT 2 AS n")
        assert (ask(one.url, "SELECT n FROM mine"), ask(two.url, "SELECT n FROM mine")) == (1, 2)


def test_two_on_one_folder_are_refused_and_the_first_goes_on(data: Path) -> None:
    with Server(data, kept=False) as first:
        with pytest.raises(PostgresError, match=f"already runs on {data} \\(process {os.getpid()}\\)"):
            Server(data).start()
        assert ask(first.url, "SELECT 1") == 1


@pytest.mark.parametrize("name", ["the club's data ü", "d" * 150], ids=["spaces", "150 letters"])
def test_awkward_paths(data: Path, name: str) -> None:
    folder = data.with_name(name)
    with Server(folder, kept=False) as server:
        assert ask(server.url, "SELECT 1") == 1
        assert where.database_url({"DATA_DIR": str(folder)}, Path("/nowhere")) == server.url
        assert len(os.fsencode(server.places.socket)) <= 100 if server.places else False


def test_a_database_of_another_version_is_refused_untouched(data: Path) -> None:
    with Server(data, kept=False) as server:
        assert server.places is not None
        version = server.places.cluster / "PG_VERSION"
    version.write_text("14\n")
    with pytest.raises(PostgresError, match="written by PostgreSQL 14"):
        Server(data).start()
    assert version.read_text() == "14\n"


def test_half_a_cluster_is_made_anew(data: Path) -> None:
    half = data / "postgres.new"
    half.mkdir(parents=True, mode=0o711)
    if os.geteuid() == 0:
        data.chmod(0o711)
    (half / "PG_VERSION").write_text("18\n")
    with Server(data, kept=False) as server:
        assert ask(server.url, "SELECT 1") == 1


def test_a_folder_that_is_no_database_is_refused_untouched(data: Path) -> None:
    (data / "postgres").mkdir(parents=True)
    (data / "postgres" / "notes.txt").write_text("mine")
    if os.geteuid() == 0:
        os.chown(data / "postgres", 65534, 65534)
    with pytest.raises(PostgresError, match="holds no database"):
        Server(data).start()
    assert (data / "postgres" / "notes.txt").read_text() == "mine"


def test_stopping_is_quick_also_with_a_session_open(data: Path) -> None:
    with Server(data, kept=False) as server:
        session = psycopg.connect(server.url)
        session.execute("SELECT 1")
        child = server.child
        assert child is not None
        begun = time.monotonic()
        server.stop()
        assert (child.returncode, time.monotonic() - begun < 5.0) == (0, True)
        session.close()
