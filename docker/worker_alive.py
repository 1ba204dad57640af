"""Exit with 0 when a worker has been heard of lately: the health check of the worker's container."""

import os
import sys
from pathlib import Path

import psycopg

LATELY_S = 60
HEARD = "SELECT count(*) FROM procrastinate_workers WHERE last_heartbeat > now() - make_interval(secs => %s)"

url = (
    os.environ.get("DATABASE_URL")
    or Path(os.environ["DATABASE_URL_FILE"]).read_text(encoding="utf-8").strip()
)
with psycopg.connect(url, connect_timeout=5) as connection:
    row = connection.execute(HEARD, [LATELY_S]).fetchone()
sys.exit(0 if row and row[0] else 1)
