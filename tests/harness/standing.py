"""What many tests of one file read and none may keep: made once, in a transaction that is undone after the file."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest


def standing(make: Callable[[], Any]) -> Any:
    """A fixture of a file: what `make` made in the database. The file's tests have the mark `django_db`, which undoes
    what each of them does: to the database this is a savepoint inside the file's transaction."""

    @pytest.fixture(scope="module")
    def made(django_db_setup: None, django_db_blocker: Any) -> Iterator[Any]:
        from django.db import transaction

        with django_db_blocker.unblock(), transaction.atomic():
            yield make()
            transaction.set_rollback(True)

    return made
