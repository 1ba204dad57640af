"""Folders that a test's own database can live in."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

MEMORY = Path("/dev/shm")


@pytest.fixture
def data() -> Iterator[Path]:
    """A data folder that does not exist yet, where the database's own account can pass."""
    base = Path(
        tempfile.mkdtemp(prefix="bibrack-keeper-", dir=MEMORY if os.access(MEMORY, os.W_OK) else None)
    )
    if os.geteuid() == 0:
        base.chmod(0o711)
    yield base / "data"
    shutil.rmtree(base, ignore_errors=True)
