"""The harness of the tests: a private database, lanes, an honest count, a browser and the demo club."""

import gc
import os
from collections.abc import Generator

import pytest

from tests.harness import honesty, lanes
from tests.harness.answers import check_answers
from tests.harness.browsers import browser_context_args, browser_type_launch_args, desk, phone, sized_page
from tests.harness.database import PrivateDatabase, only_pure
from tests.harness.demo import demo_database, demo_site, demo_template
from tests.harness.folders import data
from tests.harness.jobs import queue_left_empty
from tests.harness.made_up import profiles
from tests.harness.room_cache import remember_rooms
from tests.harness.templates import django_db_modify_db_settings, migrated_template
from tests.people import people, world

__all__ = [
    "browser_context_args",
    "browser_type_launch_args",
    "data",
    "demo_database",
    "demo_site",
    "demo_template",
    "desk",
    "django_db_modify_db_settings",
    "migrated_template",
    "people",
    "phone",
    "queue_left_empty",
    "sized_page",
    "world",
]


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Start the database and Django, unless all that was asked for needs neither."""
    lanes.describe(config)
    profiles()
    if only_pure(config.args, config.rootpath, config.invocation_params.dir):
        return
    if not hasattr(config, "workerinput"):  # workers of a parallel run inherit the address
        os.environ["DATABASE_URL"] = _database_url(config)
    os.environ["DJANGO_SETTINGS_MODULE"] = "bibrack.settings.testing"
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"  # the browser's driver keeps an event loop in this thread
    import django

    django.setup()
    remember_rooms()
    check_answers()


def _database_url(config: pytest.Config) -> str:
    named = os.environ.get("BIBRACK_TEST_DATABASE_URL", "")
    if named:
        return named
    database = PrivateDatabase()
    config.add_cleanup(database.stop)  # called even when the configuration fails half-way
    return database.start()


def pytest_collection_modifyitems(items: list[pytest.Item], config: pytest.Config) -> None:
    """Put every test into its lane; nothing that was imported for them is garbage any more."""
    lanes.assign(items, config)
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Fail what was skipped or expected to fail."""
    report = yield
    honesty.fail_if_passed_over(report)
    return report


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Fail whole files that were skipped."""
    report = yield
    honesty.fail_if_passed_over(report)
    return report
