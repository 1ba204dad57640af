"""Looking through every table, for what must not be there."""

from django.db import connection


def found_in_tables(name: str) -> list[str]:
    """Every text or JSON column of every table that holds a name."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT table_name, column_name FROM information_schema.columns "
            "WHERE table_schema = 'public' AND data_type IN ('text', 'character varying', 'jsonb', 'json')"
        )
        columns = cursor.fetchall()
        found = []
        for table, column in columns:
            cursor.execute(f'SELECT 1 FROM "{table}" WHERE "{column}"::text LIKE %s LIMIT 1', [f"%{name}%"])
            if cursor.fetchone():
                found.append(f"{table}.{column}")
    return found
