"""Several people at the same moment: real threads on connections of their own, let go together.

What each of them meets is one word: `done`, the sort of refusal, or, for anything else, the error itself, raised again.
"""

import threading
from collections import Counter
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import connection
from django.http import Http404

from club.errors import Refused, Stale

PATIENCE_S = 30
CLOCKS = ["lock_timeout", "statement_timeout"]
REFUSALS = (Stale, Http404, PermissionDenied)


def race(*doings: Callable[[], Any]) -> Counter[str]:
    """Do all of these at once; how many were done, and how many refused: `stale`, or `refused` with the fields named."""
    return Counter(word for word, _result in outcomes(*doings))


def at_once(many: int, doing: Callable[[], Any]) -> Counter[str]:
    """The same thing, `many` times at once."""
    return race(*[doing] * many)


def outcomes(*doings: Callable[[], Any]) -> list[tuple[str, Any]]:
    """In the order of the doings: the word, and what was answered or raised."""
    start = threading.Barrier(len(doings), timeout=PATIENCE_S)

    def run(doing: Callable[[], Any]) -> Any:
        try:
            with (
                connection.cursor() as cursor
            ):  # on a busy machine it is still the rule that answers, not the clock
                cursor.execute(
                    "SELECT set_config(name, '25s', false) FROM pg_settings WHERE name = ANY(%s)", [CLOCKS]
                )
            start.wait()
            return doing()
        finally:
            connection.close()

    with ThreadPoolExecutor(len(doings)) as people:
        done = [people.submit(run, doing) for doing in doings]
    return [_met(each) for each in done]


def _met(done: Future[Any]) -> tuple[str, Any]:
    met = done.exception()
    if met is None:
        return "done", done.result()
    if isinstance(met, Refused):
        return " ".join(["refused", *filter(None, met.by_field())]), met
    if isinstance(met, REFUSALS):
        return type(met).__name__.lower(), met
    raise met
