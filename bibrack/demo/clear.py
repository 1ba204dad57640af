"""Empty a database that holds the demo club, so that it can be loaded anew. A real club is never cleared."""

from django.apps import apps
from django.core.management.base import CommandError
from django.db import connection, transaction

from club import queries

ROOMS = ("club", "drills", "training")


@transaction.atomic
def clear() -> None:
    """Take every row of our rooms away. Refused when the club in the database isn't the demo club."""
    settings = queries.club_settings()
    if settings._state.adding:
        return
    if not settings.is_demo:
        raise CommandError("This database holds a real club; the demo club is only loaded into an empty one.")
    tables = [
        model._meta.db_table
        for room in ROOMS
        for model in apps.get_app_config(room).get_models(include_auto_created=True)
    ]
    quoted = ", ".join(connection.ops.quote_name(table) for table in tables)
    with connection.cursor() as cursor:
        cursor.execute(f"TRUNCATE {quoted} RESTART IDENTITY CASCADE")
