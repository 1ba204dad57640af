"""An installation of its own, started as `make run` does."""

import json
import os
import re
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path

from bibrack.postgres.where import read_run_file

ROOT = Path(__file__).resolve().parents[2]


class Installation:
    """An installation on a folder and a port of its own."""

    def __init__(self, data: Path, port: int, *, demo: bool = False) -> None:
        self.data = data
        self.port = port
        clean = {
            key: value for key, value in os.environ.items() if not key.startswith(("DATABASE_URL", "DJANGO_"))
        }
        self.env = {**clean, **({} if demo else {"DEMO": "no"})}
        self.env |= {"PORT": str(port), "DATA_DIR": str(data), "PYTHONPATH": str(ROOT)}
        self.child: subprocess.Popen[str] | None = None

    def command(self) -> list[str]:
        return [sys.executable, "-m", "bibrack.run"]

    def start(self) -> None:
        # From another folder: nothing may depend on where it is called.
        self.child = subprocess.Popen(
            self.command(), env=self.env, cwd="/", stdout=subprocess.PIPE, text=True, start_new_session=True
        )

    def stop(self) -> tuple[int, str]:
        """Press Ctrl-C; return the exit status and all that was printed."""
        assert self.child is not None
        self.child.send_signal(signal.SIGINT)
        printed, _ = self.child.communicate(timeout=60)
        return self.child.returncode, printed

    def answers(self, path: str = "/healthz") -> bool:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=5) as answer:
                return answer.status == 200
        except (urllib.error.URLError, OSError):
            return False

    def styles(self) -> list[str]:
        """Where the page for signing in says that its styles are."""
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/accounts/login/", timeout=5) as answer:
            return re.findall(r'href="(/static/[^"]+\.css)"', answer.read().decode())

    def children(self) -> list[int]:
        noted = self.data / "children.json"
        return [fact["pid"] for fact in json.loads(noted.read_text())] if noted.exists() else []

    def database(self) -> object:
        return read_run_file(self.data).get("pid")

    def database_url(self) -> str | None:
        url = read_run_file(self.data).get("url")
        return url if isinstance(url, str) else None

    def supervisor(self) -> object:
        return read_run_file(self.data).get("supervisor_pid")


def until(condition: Callable[[], bool], patience_s: float = 60.0) -> bool:
    deadline = time.monotonic() + patience_s
    while not condition():
        if time.monotonic() > deadline:
            return False
        time.sleep(0.05)
    return True
