"""Databases that are made once per run and copied: migrated and empty, or holding the demo club."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import psycopg
import pytest
from psycopg import sql

APPS = ("bibrack", "club", "drills", "sessions")
MIGRATED = "bibrack_migrated"


def run(statement: str, *names: str) -> None:
    """Run a statement outside any transaction, with names put in for its braces."""
    with psycopg.connect(os.environ["DATABASE_URL"], autocommit=True) as connection:
        connection.execute(sql.SQL(statement).format(*map(sql.Identifier, names)))


def exists(name: str) -> bool:
    """Tell whether there is a database of this name."""
    with psycopg.connect(os.environ["DATABASE_URL"], autocommit=True) as connection:
        found = connection.execute("SELECT 1 FROM pg_database WHERE datname = %s", [name]).fetchone()
    return found is not None


@contextmanager
def one_at_a_time(name: str) -> Iterator[None]:
    """Let one worker of this run at a time do this; the lock dies with its holder."""
    with psycopg.connect(os.environ["DATABASE_URL"], autocommit=True) as connection:
        connection.execute("SELECT pg_advisory_lock(hashtext(%s))", [name])
        yield


@contextmanager
def pointed_at(database: str) -> Iterator[None]:
    """Point Django's connection at another database of the same server for a while."""
    from django.db import connections

    connection = connections["default"]
    before = connection.settings_dict["NAME"]
    connection.close()
    connections.settings["default"]["NAME"] = connection.settings_dict["NAME"] = database
    try:
        yield
    finally:
        connection.close()
        connections.settings["default"]["NAME"] = connection.settings_dict["NAME"] = before


def build(name: str, fill: Callable[[], None], *, base: str = "template1") -> str:
    """Make a database once, under a passing name until it is whole; return its name."""
    with one_at_a_time(name):
        if not exists(name):
            half = f"{name}_half"
            run("DROP DATABASE IF EXISTS {} WITH (FORCE)", half)
            run("CREATE DATABASE {} TEMPLATE {}", half, base)
            with pointed_at(half):
                fill()
            run("ALTER DATABASE {} RENAME TO {}", half, name)
    return name


def _migrate() -> None:
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
    call_command("createcachetable", verbosity=0)


@pytest.fixture(scope="session")
def migrated_template(django_db_blocker) -> str:
    """The name of an empty, migrated database; copy it, never change it."""
    with django_db_blocker.unblock():
        return build(MIGRATED, _migrate)


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix, migrated_template: str
) -> None:
    """Have every worker's test database copied from the migrated one: half a second in place of five.

    Its name is this process's own, so that several runs may share a server.
    """
    from django.db import connections

    test = connections["default"].settings_dict["TEST"]
    test["TEMPLATE"], test["NAME"] = migrated_template, f"bibrack_test_{os.getpid()}"
