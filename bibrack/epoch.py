"""The database's epoch: until the first release migrations may be edited, and then this number rises.

The number is written down when all migrations are applied, so tables without it are half-made, or made by hand.
"""

from collections.abc import Iterator

from django.apps import apps
from django.conf import settings
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from psycopg import sql

SCHEMA_EPOCH = 19
# What comes with the tables, or with a start: nobody misses it.
BOOKKEEPING = (
    "auth_permission",
    "bibrack_epoch",
    "club_onetimelink",
    "django_content_type",
    "django_migrations",
    "django_session",
    "procrastinate_",
    settings.CACHES["default"]["LOCATION"],
)


def stored_epoch() -> int | None:
    """Return the epoch that the database was made in; None for an empty database, 0 when it was not written down."""
    tables = connection.introspection.table_names()
    if "bibrack_epoch" not in tables:
        return None if "django_migrations" not in tables else 0
    with connection.cursor() as cursor:
        cursor.execute("SELECT coalesce(max(epoch), 0) FROM bibrack_epoch")
        return int(cursor.fetchone()[0])


def holds_only_demo_data() -> bool:
    """Tell whether the club in the database is the invented one; when in doubt, no."""
    if "club_clubsettings" not in connection.introspection.table_names():
        return False
    with connection.cursor() as cursor:
        cursor.execute("SELECT coalesce(bool_and(is_demo), false) FROM club_clubsettings")
        return bool(cursor.fetchone()[0])


def holds_nothing() -> bool:
    """Tell whether the tables are ours and empty: a first start was killed half-way, or `migrate` was run by hand."""
    tables = connection.introspection.table_names()
    with connection.cursor() as cursor:
        if "django_migrations" in tables:
            cursor.execute("SELECT DISTINCT app FROM django_migrations")
            if {app for (app,) in cursor.fetchall()} - {each.label for each in apps.get_app_configs()}:
                return False  # somebody else's tables
        for table in tables:
            if table.startswith(BOOKKEEPING):
                continue
            cursor.execute(sql.SQL("SELECT EXISTS (SELECT FROM {})").format(sql.Identifier(table)))
            if cursor.fetchone()[0]:
                return False
    return True


def is_migrated() -> bool:
    """Tell whether every migration is applied."""
    executor = MigrationExecutor(connection)
    return not executor.migration_plan(executor.loader.graph.leaf_nodes())


def tables_are_ours() -> bool:
    """Tell whether the tables are those of this version, by the names of their columns, constraints and indexes."""
    return is_migrated() and next(_differences(), None) is None


def _differences() -> Iterator[str]:
    there = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for model in apps.get_models(include_auto_created=True):
            table = model._meta.db_table
            if not model._meta.managed or model._meta.proxy:
                continue
            if table not in there:
                yield table
                continue
            columns = {each.name for each in connection.introspection.get_table_description(cursor, table)}
            yield from (
                f"{table}.{each}" for each in columns ^ {each.column for each in model._meta.local_fields}
            )
            wanted = {each.name for each in (*model._meta.constraints, *model._meta.indexes)}
            yield from wanted - set(connection.introspection.get_constraints(cursor, table))


def store_epoch() -> None:
    """Write the present epoch down, outside the migrations that it speaks about."""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("CREATE TABLE IF NOT EXISTS bibrack_epoch (epoch integer NOT NULL)")
        cursor.execute("DELETE FROM bibrack_epoch")
        cursor.execute("INSERT INTO bibrack_epoch VALUES (%s)", [SCHEMA_EPOCH])


def empty_the_database() -> None:
    """Drop everything in it, all tables at once. Raises RuntimeError when it holds a real club."""
    if not (holds_only_demo_data() or holds_nothing()):
        raise RuntimeError(f"{settings.DATABASES['default']['NAME']} does not hold demo data alone.")
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("DROP SCHEMA public CASCADE")
        cursor.execute("CREATE SCHEMA public")
