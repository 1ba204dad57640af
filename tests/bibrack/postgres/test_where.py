import json
from pathlib import Path

from bibrack.postgres.where import data_dir, database_url, read_run_file, socket_url


def test_the_environment_is_asked_first(tmp_path: Path) -> None:
    (tmp_path / "run.json").write_text(json.dumps({"url": "postgres://running/bibrack"}))
    secret = tmp_path / "secret"
    secret.write_text("postgres://from-a-file/bibrack\n")
    environ = {"DATA_DIR": str(tmp_path)}
    assert database_url(environ, Path("/")) == "postgres://running/bibrack"
    environ["DATABASE_URL_FILE"] = str(secret)
    assert database_url(environ, Path("/")) == "postgres://from-a-file/bibrack"
    environ["DATABASE_URL"] = "postgres://named/bibrack"
    assert database_url(environ, Path("/")) == "postgres://named/bibrack"


def test_nothing_named_and_nothing_running(tmp_path: Path) -> None:
    assert database_url({"DATA_DIR": str(tmp_path)}, Path("/")) is None


def test_a_broken_run_file_counts_as_none(tmp_path: Path) -> None:
    (tmp_path / "run.json").write_text("{half")
    assert read_run_file(tmp_path) == {}


def test_the_data_folder_is_beside_manage_py_unless_named() -> None:
    assert data_dir({}, Path("/somewhere")) == Path("/somewhere/data")
    assert data_dir({"DATA_DIR": "/my data"}, Path("/somewhere")) == Path("/my data")


def test_a_socket_folder_becomes_the_host() -> None:
    assert socket_url(Path("/run/x")) == "postgres://bibrack@%2Frun%2Fx/bibrack"
