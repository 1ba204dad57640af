"""The database's epoch: until the first release migrations may be edited, and then this number rises."""

from django.conf import settings
from django.db import connection, transaction

SCHEMA_EPOCH = 6


def stored_epoch() -> int | None:
    """Return the epoch that the database was made in; None for an empty database."""
    tables = connection.introspection.table_names()
    if "bibrack_epoch" not in tables:
        return None if "django_migrations" not in tables else 0
    with connection.cursor() as cursor:
        cursor.execute("SELECT epoch FROM bibrack_epoch")
        return int(cursor.fetchone()[0])


def holds_only_demo_data() -> bool:
    """Tell whether the club in the database is the invented one; when in doubt, no."""
    if "club_clubsettings" not in connection.introspection.table_names():
        return False
    with connection.cursor() as cursor:
        cursor.execute("SELECT coalesce(bool_and(is_demo), false) FROM club_clubsettings")
        return bool(cursor.fetchone()[0])


def store_epoch() -> None:
    """Write the present epoch down, outside the migrations that it speaks about."""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("CREATE TABLE IF NOT EXISTS bibrack_epoch (epoch integer NOT NULL)")
        cursor.execute("DELETE FROM bibrack_epoch")
        cursor.execute("INSERT INTO bibrack_epoch VALUES (%s)", [SCHEMA_EPOCH])


def empty_the_database() -> None:
    """Drop everything in it, all tables at once. Raises RuntimeError when it holds a real club."""
    if not holds_only_demo_data():
        raise RuntimeError(f"{settings.DATABASES['default']['NAME']} does not hold demo data alone.")
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("DROP SCHEMA public CASCADE")
        cursor.execute("CREATE SCHEMA public")
