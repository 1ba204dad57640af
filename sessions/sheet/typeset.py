"""Typesetting in a process of its own: what the typesetter remembers, and what a strange page makes it take, ends with it.

In the process that answers pages it kept 10 MB for each new sheet. A process costs 0.1 to 0.2 s.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import msgspec

ROOT = Path(__file__).resolve().parents[2]
AT_ONCE = 2  # more would only share the same processors, and each takes up to a tenth of a gigabyte
PROCESSOR_S = 20  # of the longest sheet, several times over
PATIENCE_S = 50.0  # waiting for a place and for the sheet, by the clock of a busy machine: most proxies give up after 60
MEMORY_BYTES = 2 * 1024**3  # of addresses; the longest sheet takes a tenth of it as memory
NICER_BY = 5  # pages are answered first

_places = threading.BoundedSemaphore(AT_ONCE)


class NotTypeset(RuntimeError):
    """The typesetter found no time or not enough memory, or could not read what it was given."""


class Order(msgspec.Struct, frozen=True):
    """What is to be set: the file `main` of `files`, with those that it opens. `stamp`: seconds since 1970 that stand in a PDF
    as its time. `ppi`: dots per inch of a picture."""

    main: str
    files: dict[str, bytes]
    format: Literal["pdf", "png"]
    stamp: int = 0
    ppi: float = 110.0


def typeset(order: Order, words: Sequence[str] = ()) -> list[bytes]:
    """The bytes of a PDF, or of the picture of each page. `words`: another program than ours. Raises NotTypeset."""
    words = words or [sys.executable, "-m", "sessions.sheet.typesetter"]
    until = time.monotonic() + PATIENCE_S
    if not _places.acquire(timeout=PATIENCE_S):
        raise NotTypeset("too many sheets are being made")
    try:
        done = subprocess.run(
            words,
            input=msgspec.msgpack.encode(order),
            capture_output=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            timeout=max(until - time.monotonic(), 0.0),
            check=True,
        )
        return msgspec.msgpack.decode(done.stdout, type=list[bytes])
    except subprocess.TimeoutExpired as late:
        raise NotTypeset(f"not done after {PATIENCE_S:.0f} s") from late
    except (subprocess.CalledProcessError, msgspec.DecodeError) as error:
        said = getattr(error, "stderr", b"").decode(errors="replace").strip()
        raise NotTypeset(said.splitlines()[-1] if said else str(error)) from error
    finally:
        _places.release()
