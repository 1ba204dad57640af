"""Where connections wait that have nothing to say: looked at together, by the system, however many they are.

waitress asks each connection anew in every round of its loop. Hundreds that stand still would make each round longer for those
that move; here the system itself names the ones on which something has arrived.
"""

import select
from collections.abc import MutableMapping
from typing import Any

from waitress import wasyncore


class Parking:
    """One entry of the server's loop that stands for all connections that wait. Used by the loop's thread alone."""

    accepting = False

    def __init__(self, loop: MutableMapping[int, Any]) -> None:
        """`loop`: the server's connections that move, by file number."""
        self._loop = loop
        self._system = select.epoll()
        self._parked: dict[int, Any] = {}
        loop[self._system.fileno()] = self

    def sweep(self) -> None:
        """Park the connections of the loop that wait by now."""
        for number, each in list(self._loop.items()):
            if getattr(each, "may_park", False):
                del self._loop[number]
                self._parked[number] = each
                self._system.register(number, select.EPOLLIN)

    def forget(self, number: int) -> None:
        """A connection ends: its number may soon be another's."""
        if self._parked.pop(number, None) is not None:
            self._system.unregister(number)

    def readable(self) -> bool:
        return True

    def writable(self) -> bool:
        return False

    def handle_read_event(self) -> None:
        """Take in what has arrived; who moves now goes back into the loop."""
        for number, _ in self._system.poll(0):
            connection = self._parked.get(number)
            if connection is None:
                continue
            wasyncore.read(connection)
            if number in self._parked and not connection.may_park:
                self.forget(number)
                self._loop[number] = connection

    def close(self) -> None:
        """Let go of the system's list."""
        self._loop.pop(self._system.fileno(), None)
        self._system.close()
