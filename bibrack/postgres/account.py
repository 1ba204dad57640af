"""The account that the database runs under: PostgreSQL refuses to run as root."""

import os
import pwd
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bibrack.postgres import PostgresError

UNPRIVILEGED = ("bibrack", "postgres", "nobody")


@dataclass(frozen=True)
class SystemUser:
    """An unprivileged user of this machine."""

    name: str
    uid: int
    gid: int


def choose(cluster: Path) -> SystemUser | None:
    """Return the account to drop to, or None when we are an ordinary user already.

    An existing cluster keeps its owner. No account is ever added to the machine.
    Raises PostgresError when no unprivileged account exists, or the cluster belongs to somebody else.
    """
    if os.geteuid() != 0:
        _refuse_foreign(cluster)
        return None
    owner = _owner(cluster)
    if owner not in (None, 0):
        return _by_uid(owner)
    for name in UNPRIVILEGED:
        try:
            entry = pwd.getpwnam(name)
        except KeyError:
            continue
        return SystemUser(name, entry.pw_uid, entry.pw_gid)
    raise PostgresError(
        "PostgreSQL refuses to run as root and this machine has no ordinary account: "
        "start as an ordinary user, or set DATABASE_URL to a database elsewhere."
    )


def _owner(path: Path) -> int | None:
    try:
        return path.stat().st_uid
    except FileNotFoundError:
        return None


def _by_uid(uid: int) -> SystemUser:
    try:
        entry = pwd.getpwuid(uid)
    except KeyError:
        raise PostgresError(
            f"The database's files belong to user number {uid}, whom this machine does not know."
        ) from None
    return SystemUser(entry.pw_name, uid, entry.pw_gid)


def _refuse_foreign(cluster: Path) -> None:
    try:
        owner = _owner(cluster)
    except PermissionError:
        owner = -1
    if owner not in (None, os.geteuid()):
        raise PostgresError(
            f"{cluster} belongs to another user: start as that user or as root, or choose another DATA_DIR."
        )


def can_run(account: SystemUser | None, command: list[str]) -> bool:
    """Tell whether this account can reach and run the command (an attempt, not a reading of rights)."""
    try:
        done: subprocess.CompletedProcess[bytes] = subprocess.run(
            command, capture_output=True, check=False, cwd="/", **as_account(account)
        )
    except OSError:
        return False
    return done.returncode == 0


def can_enter(account: SystemUser | None, folder: Path) -> bool:
    """Tell whether this account can pass through every folder down to this one."""
    if account is None:
        return os.access(folder, os.X_OK)
    return can_run(account, ["/bin/sh", "-c", 'cd "$1"', "sh", str(folder)])


def as_account(account: SystemUser | None) -> dict[str, Any]:
    """Return the arguments of `subprocess` that start a child under this account."""
    if account is None:
        return {}
    return {"user": account.uid, "group": account.gid, "extra_groups": []}


def give(account: SystemUser | None, folder: Path) -> None:
    """Make a folder that only this account (and root) can look into. Raises OSError."""
    folder.mkdir(mode=0o700, exist_ok=True)
    if account is not None:
        os.chown(folder, account.uid, account.gid)
    folder.chmod(0o700)
