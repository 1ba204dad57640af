"""Where the database is: an address from the environment, or the one that `make run` started.

Imported by the settings, so it opens no connection and starts nothing.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import quote

APP_ROLE = "bibrack"
APP_DATABASE = "bibrack"
RUN_FILE = "run.json"


def data_dir(environ: Mapping[str, str], base_dir: Path) -> Path:
    """Return the folder of this installation's data: `DATA_DIR`, else `data` beside manage.py."""
    named = environ.get("DATA_DIR", "").strip()
    return Path(named).expanduser().absolute() if named else base_dir / "data"


def database_url(environ: Mapping[str, str], base_dir: Path) -> str | None:
    """Return the database's URL, or None when none was named and none is running.

    Looked for in this order: `DATABASE_URL`, the file that `DATABASE_URL_FILE` names, and the run
    file that a running `make run` keeps in its data folder.
    Raises OSError when `DATABASE_URL_FILE` cannot be read.
    """
    named = environ.get("DATABASE_URL", "").strip()
    if named:
        return named
    secret_file = environ.get("DATABASE_URL_FILE", "").strip()
    if secret_file:
        return Path(secret_file).read_text(encoding="utf-8").strip()
    run = read_run_file(data_dir(environ, base_dir))
    url = run.get("url")
    return url if isinstance(url, str) else None


def read_run_file(folder: Path) -> dict[str, object]:
    """Return what a running `make run` wrote about itself; empty when there is nothing to read."""
    try:
        found = json.loads((folder / RUN_FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def socket_url(socket_dir: Path, *, role: str = APP_ROLE, database: str = APP_DATABASE) -> str:
    """Return the URL of a database behind a Unix socket, the folder percent-encoded as its host."""
    return f"postgres://{role}@{quote(str(socket_dir), safe='')}/{database}"
