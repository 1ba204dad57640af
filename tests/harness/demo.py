"""The demo club, loaded once per run and cloned for each journey."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

import pytest

from tests.harness.templates import APPS, build, pointed_at, run


@dataclass(frozen=True)
class DemoSite:
    """A running site on a copy of the demo club; what a journey changes stays in its copy."""

    url: str
    database: str

    def address(self, path: str) -> str:
        """Return the full address of a path that starts with a slash."""
        return self.url + path

    def sign_in_link(self, email: str) -> str:
        """Return a link that signs this person in once, at this site."""
        from io import StringIO

        from django.core.management import call_command

        out = StringIO()
        call_command("sign_in_link", email, stdout=out)
        printed = out.getvalue().split()[-1]
        return self.url + "/" + printed.split("://", 1)[-1].split("/", 1)[-1]


def template_name(root: Path) -> str:
    """Return the template's name, which carries a hash of all migrations and of the demo's own files."""
    files = [path for app in APPS for path in sorted((root / app).rglob("migrations/*.py"))]
    files += sorted((root / "bibrack" / "demo").rglob("*.*"))
    digest = hashlib.sha256()
    for path in files:
        if "__pycache__" not in path.parts:
            digest.update(path.read_bytes())
    return f"bibrack_demo_{digest.hexdigest()[:12]}"


def _load() -> None:
    from django.core.management import call_command
    from django.db import connection

    call_command("demo", verbosity=0)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")  # as a server does by itself after a while


@pytest.fixture(scope="session")
def demo_template(migrated_template: str, django_db_blocker, pytestconfig: pytest.Config) -> str:
    """The name of a database that holds the demo club; copy it, never change it."""
    with django_db_blocker.unblock():
        return build(template_name(pytestconfig.rootpath), _load, base=migrated_template)


@pytest.fixture
def demo_database(demo_template: str, django_db_blocker) -> Iterator[str]:
    """A copy of the demo club that Django's connection points at during the test."""
    name = f"journey_{uuid4().hex[:12]}"
    run("CREATE DATABASE {} TEMPLATE {}", name, demo_template)
    with django_db_blocker.unblock(), pointed_at(name):
        yield name
    run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)


@pytest.fixture
def demo_site(demo_database: str) -> Iterator[DemoSite]:
    """A live site on a copy of the demo club."""
    from pytest_django.live_server_helper import LiveServer

    server = LiveServer("localhost")
    yield DemoSite(server.url, demo_database)
    server.stop()
