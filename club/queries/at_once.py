"""Several small lists in one query."""

from collections.abc import Mapping
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import QuerySet

from club.actor import Actor
from club.models import User

Rows = list[dict[str, Any]]


def at_once(actor: Actor, lists: Mapping[str, "QuerySet[Any]"]) -> dict[str, Rows]:
    """Each list by its name, as plain rows in its own order: querysets of one value, a `JSONObject`. One query, none for none.

    For what is small, and asked for by one page only: each row is put together by the database and read again here.
    """
    if not lists:
        return {}
    asking = User.objects.filter(pk=actor.user_id)
    found = asking.values_list(*(ArraySubquery(each) for each in lists.values())).get()
    return dict(zip(lists, found, strict=True))
