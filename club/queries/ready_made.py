"""Subqueries whose SQL is put together once, for querysets that are built once and filtered by every request."""

from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import Subquery


class _ReadyMade(Subquery):
    """Django compiles every annotation anew for each query, which takes longer than the query itself.

    What a subquery that has been resolved compiles to follows from itself alone; whoever changes one (resolves it, gives
    its tables other names) does so on a copy, and a copy begins anew.
    """

    _made: tuple[str, tuple[Any, ...]] | None = None

    def as_sql(self, compiler: Any, connection: Any, template: str | None = None, **more: Any) -> Any:
        if template is not None or more:
            return super().as_sql(compiler, connection, template, **more)
        if self._made is None:
            sql, params = super().as_sql(compiler, connection)
            self._made = sql, tuple(params)
        return self._made

    def copy(self) -> Any:
        clone = super().copy()
        clone._made = None
        return clone


class ReadySubquery(_ReadyMade):
    """One value of a row."""


class ReadyArray(_ReadyMade, ArraySubquery):
    """An array of rows."""
