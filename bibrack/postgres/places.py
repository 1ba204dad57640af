"""Which folder holds what, within the limits of the machine."""

import hashlib
import os
import re
import tempfile
import uuid
from dataclasses import dataclass
from pathlib import Path

from bibrack.postgres import PostgresError
from bibrack.postgres import account as accounts
from bibrack.postgres.account import SystemUser

# A socket's address holds 104 bytes on some systems, 108 on Linux, of which the name takes 15.
LONGEST_SOCKET_FOLDER = 85
SAFE_IN_A_URL = re.compile(r"[A-Za-z0-9/._-]+")  # some readers of URLs undo no escape but %2F
SHARED_DATA = Path("/var/lib/bibrack")
CLUSTER = "postgres"
ELSEWHERE = "cluster-elsewhere"


@dataclass(frozen=True)
class ClusterPaths:
    """The folders of one database."""

    data: Path
    cluster: Path
    socket: Path
    log: Path


def cluster_folder(data: Path) -> Path:
    """Return where the cluster is, or where it would be made first."""
    note = data / ELSEWHERE
    return Path(note.read_text(encoding="utf-8").strip()) if note.exists() else data / CLUSTER


def arrange(data: Path, account: SystemUser | None) -> ClusterPaths:
    """Make the folders that this account needs and return them.

    When root's data folder is closed to the account (below /root, say), no rights are widened: the
    cluster goes below /var/lib/bibrack and a note in the data folder says where.
    Raises PostgresError when a folder cannot be made or is somebody else's.
    """
    cluster = cluster_folder(data)
    if cluster.parent == data and not accounts.can_enter(account, data):
        cluster = SHARED_DATA / f"cluster-{uuid.uuid4().hex[:12]}"
        SHARED_DATA.mkdir(mode=0o755, parents=True, exist_ok=True)
        (data / ELSEWHERE).write_text(f"{cluster}\n", encoding="utf-8")
    socket = _socket_folder(cluster)
    log = data / "log"
    log.mkdir(mode=0o700, exist_ok=True)
    _make_private(socket, account)
    return ClusterPaths(data, cluster, socket, log / "postgres.log")


def _socket_folder(cluster: Path) -> Path:
    beside = cluster.with_name(f"{cluster.name}-socket")  # no two clusters share one
    if len(os.fsencode(beside)) <= LONGEST_SOCKET_FOLDER and SAFE_IN_A_URL.fullmatch(str(beside)):
        return beside
    name = f"bibrack-{hashlib.sha256(os.fsencode(cluster)).hexdigest()[:12]}"
    bases = [os.environ.get("XDG_RUNTIME_DIR", ""), tempfile.gettempdir(), "/tmp"]
    for base in bases if os.geteuid() else ["/run", *bases[1:]]:
        folder = Path(base) / name
        if (
            base
            and os.access(base, os.W_OK)
            and len(os.fsencode(folder)) <= LONGEST_SOCKET_FOLDER
            and SAFE_IN_A_URL.fullmatch(str(folder))
        ):
            return folder
    raise PostgresError(
        "No folder with a path short enough for the database's socket: set TMPDIR to a short one."
    )


def _make_private(folder: Path, account: SystemUser | None) -> None:
    """Make the socket's folder; in a shared place another user may have taken the name before us."""
    ours = {os.geteuid(), account.uid if account else os.geteuid()}
    if folder.is_symlink() or (folder.exists() and folder.stat().st_uid not in ours):
        raise PostgresError(f"{folder} belongs to somebody else: remove it, or set TMPDIR to another folder.")
    accounts.give(account, folder)
