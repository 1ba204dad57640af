"""A first start that is killed half-way, and tables that somebody else's command made: it heals, or says what to do."""

import os
from collections.abc import Iterator
from io import StringIO
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection

from bibrack import epoch
from bibrack.sign_in_links import is_empty
from tests.bibrack import killed
from tests.factories import ClubSettingsFactory, UserFactory
from tests.harness.free_port import free_port
from tests.harness.installation import Installation, until
from tests.harness.templates import pointed_at, run

pytestmark = pytest.mark.tx


@pytest.mark.sweep
def test_a_first_start_killed_at_one_moment_after_another_ends_in_a_working_demo_club(data: Path) -> None:
    """Each start meets what the kill before it has left, and is killed a stage later."""
    installation = Installation(data, free_port(), demo=True)
    for moment in killed.MOMENTS:
        installation.start()
        assert until(lambda: moment(installation), killed.PATIENCE_S), moment.__name__  # noqa: B023
        killed.crash(installation)
        (data / "secret_key").write_text("")  # made, and not yet written
    assert killed.healed(installation)
    assert (data / "secret_key").stat().st_mode & 0o777 == 0o600
    assert len((data / "secret_key").read_text()) > 40
    assert list(data.glob("postgres.new*")) == []


# --- by hand ------------------------------------------------------------------------------------------------


@pytest.fixture
def tables(migrated_template: str, django_db_blocker, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A database of its own that `migrate` has made."""
    monkeypatch.setattr("bibrack.management.commands.prepare.collect_static", lambda: None)
    monkeypatch.delenv("REBUILD_DEMO", raising=False)
    name = f"start_{uuid4().hex[:12]}"
    run("CREATE DATABASE {} TEMPLATE {}", name, migrated_template)
    with django_db_blocker.unblock(), pointed_at(name):
        yield
    run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)


def execute(statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)


def prepare() -> str:
    said = StringIO()
    call_command("prepare", no_demo=True, stdout=said)
    return said.getvalue()


def test_migrate_by_hand_and_then_a_start(tables: None) -> None:
    assert epoch.stored_epoch() == epoch.SCHEMA_EPOCH
    assert "/set-up/" in prepare()


def test_the_set_up_link_is_printed_by_its_command_alone_and_only_while_nobody_administers(
    tables: None,
) -> None:
    said, link = StringIO(), StringIO()
    call_command("prepare", no_demo=True, no_links=True, stdout=said)
    call_command("set_up_link", stdout=link)
    assert ("set-up" in said.getvalue(), "set_up_link` prints" in said.getvalue()) == (False, True)
    assert "/set-up/" in link.getvalue()
    UserFactory(is_superuser=True)
    with pytest.raises(CommandError, match="has an administrator"):
        call_command("set_up_link")
    said = StringIO()
    call_command("prepare", no_demo=True, no_links=True, stdout=said)
    assert said.getvalue() == ""


def test_half_made_tables_that_hold_nothing_are_made_again(tables: None) -> None:
    """With the links of a start before, and a migration that was applied and not yet noted."""
    assert "/set-up/" in prepare()
    execute("DROP TABLE bibrack_epoch")
    execute("DELETE FROM django_migrations WHERE app = 'training'")
    with pytest.raises(CommandError, match=r"run `python manage.py prepare`"):
        call_command("migrate", interactive=False, verbosity=0)
    assert "/set-up/" in prepare()
    assert (epoch.stored_epoch(), epoch.is_migrated(), is_empty()) == (epoch.SCHEMA_EPOCH, True, True)


def real_club() -> None:
    ClubSettingsFactory(name="Ashmere Rovers", is_demo=False)


def name_of_the_club() -> str:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name FROM club_clubsettings")
        return cursor.fetchone()[0]


@pytest.mark.parametrize("lost", ["DROP TABLE bibrack_epoch", "DELETE FROM bibrack_epoch"])
def test_a_real_club_whose_epoch_was_lost_goes_on_where_the_tables_are_ours(tables: None, lost: str) -> None:
    real_club()
    execute(lost)
    prepare()
    assert (epoch.stored_epoch(), name_of_the_club()) == (epoch.SCHEMA_EPOCH, "Ashmere Rovers")


@pytest.mark.parametrize(
    "changed",
    [
        "ALTER TABLE club_pitch ADD COLUMN slope int",
        "ALTER TABLE club_season DROP CONSTRAINT seasons_apart",
        "DROP TABLE training_ledgerentry CASCADE",
        "DELETE FROM django_migrations WHERE app = 'training'",
    ],
)
def test_a_real_club_with_other_tables_is_left_alone_and_the_way_out_is_said(
    tables: None, changed: str
) -> None:
    real_club()
    execute("DROP TABLE bibrack_epoch")
    execute(changed)
    with pytest.raises(
        CommandError, match=r"holds a real club: nothing was changed. Go back to that version"
    ):
        prepare()
    assert (epoch.stored_epoch(), name_of_the_club()) == (0, "Ashmere Rovers")


def test_a_demo_club_of_another_epoch_is_made_anew_when_asked(
    tables: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    ClubSettingsFactory(is_demo=True)
    execute("UPDATE bibrack_epoch SET epoch = 1")
    with pytest.raises(CommandError, match="REBUILD_DEMO=yes make run"):
        prepare()
    emptied: list[bool] = []
    monkeypatch.setattr(epoch, "empty_the_database", lambda: emptied.append(True))
    monkeypatch.setenv("REBUILD_DEMO", "yes")
    prepare()
    assert emptied == [True]


def test_somebody_elses_tables_are_never_emptied(tables: None) -> None:
    execute("DROP TABLE bibrack_epoch")
    execute("INSERT INTO django_migrations (app, name, applied) VALUES ('shop', '0001_initial', now())")
    assert not epoch.holds_nothing()
    with pytest.raises(RuntimeError, match="does not hold demo data alone"):
        epoch.empty_the_database()
    execute("DELETE FROM django_migrations WHERE app = 'shop'")
    execute("CREATE TABLE shop_order (id int)")
    assert epoch.holds_nothing()
    execute("INSERT INTO shop_order VALUES (1)")
    assert not epoch.holds_nothing()


def test_an_empty_database_with_no_tables_has_no_epoch(django_db_blocker) -> None:
    name = f"start_{os.getpid()}_bare"
    run("CREATE DATABASE {}", name)
    try:
        with django_db_blocker.unblock(), pointed_at(name):
            assert (epoch.stored_epoch(), epoch.holds_nothing()) == (None, True)
    finally:
        run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)
