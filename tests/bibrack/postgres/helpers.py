"""What the tests of the database's keeper share."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import psycopg

ROOT = Path(__file__).resolve().parents[3]

# A keeper in a process of its own, as `make run` is, so that it can be killed.
KEEPER = """
import sys, time
from pathlib import Path
from bibrack.postgres.server import Server
server = Server(Path(sys.argv[1]))
server.start()
print(server.url, server.child.pid, flush=True)
time.sleep(600)
"""


def start_keeper(data: Path, **options: object) -> tuple[subprocess.Popen[str], str, int]:
    """Start a keeper on a folder; return it with the database's URL and the server's number."""
    keeper = subprocess.Popen(
        [sys.executable, "-c", KEEPER, str(data)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        **options,
    )
    assert keeper.stdout is not None
    words = keeper.stdout.readline().split()
    assert len(words) == 2, "the keeper did not start"
    return keeper, words[0], int(words[1])


def kill(process: subprocess.Popen[str]) -> None:
    """End a process without a chance to tidy up."""
    process.send_signal(signal.SIGKILL)
    process.wait()
    if process.stdout:
        process.stdout.close()


def ask(url: str, statement: str) -> object:
    """Return the first value that a statement answers."""
    with psycopg.connect(url, autocommit=True) as connection:
        cursor = connection.execute(statement)
        row = cursor.fetchone() if cursor.description else None
    return row[0] if row else None
