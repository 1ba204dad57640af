"""What one visitor may take of the web server. Sizes in bytes, times in seconds."""

import threading
from dataclasses import dataclass, field

from club.caches import MIB
from club.limits import BODY_BYTES

KIB = 1024


class Permits:
    """A number of places that are taken and given back from several threads."""

    def __init__(self, number: int) -> None:
        self._free = threading.BoundedSemaphore(number)

    def take(self) -> bool:
        """Take a place if one is free; tell whether it was."""
        return self._free.acquire(blocking=False)

    def give_back(self) -> None:
        """Give one back. Raises ValueError when none was taken."""
        self._free.release()


@dataclass(frozen=True)
class RequestLimits:
    """Everything that ends a request before the site answers it."""

    head_bytes: int = 32 * KIB
    body_bytes: int = BODY_BYTES + 64 * KIB  # a form or document, with what a browser writes around it
    large_body_bytes: int = (
        48 * MIB
    )  # a file of drills, a photo: the site itself says what is over 20 MiB or 12 MB
    large_paths: frozenset[str] = frozenset()
    large_endings: tuple[str, ...] = ()
    large_at_once: int = 4  # larger bodies that are on the disk at the same time
    memory_per_body: int = 64 * KIB  # what is longer waits on the disk
    connections: int = 1000  # beyond, those that have been silent longest give way
    head_s: float = 15.0  # from a request's first byte, or the connection's beginning, to the end of its head
    silence_s: float = 20.0  # between two pieces of a body, or of an answer that nobody takes
    kept_alive_s: float = 75.0  # between two requests: longer than a proxy in front keeps its own end
    body_bytes_per_s: float = 32 * KIB  # slower over the whole body is no phone, but somebody holding a place
    places: Permits = field(init=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "places", Permits(self.large_at_once))

    def body_limit(self, path: str) -> int:
        """The longest body at an address."""
        is_large = path in self.large_paths or path.endswith(self.large_endings)
        return self.large_body_bytes if is_large else self.body_bytes

    def body_s(self, length: int) -> float:
        """How long a body of this length may take."""
        return self.silence_s + length / self.body_bytes_per_s
