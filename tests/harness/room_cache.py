"""Where a drill can be run follows from its design alone: a run of tests, which keeps the same few over and over, works
each out once."""

from collections.abc import Callable
from typing import Any


def remember_rooms() -> None:
    """Have the library ask for the rooms of a design once in this process."""
    from drills import bridge

    bridge.rooms = _once(bridge.rooms)
    bridge.rooms_with_kit = _once(bridge.rooms_with_kit)
    bridge.either = _once_of_all(bridge.either)


def _once(work_out: Callable[..., Any]) -> Callable[..., Any]:
    known: dict[Any, Any] = {}

    def remembered(design: Any, *, most_players: int, places: Any) -> Any:
        asked = repr(design), most_players
        if asked not in known:
            known[asked] = work_out(design, most_players=most_players, places=places)
        return list(known[asked])

    return remembered


def _once_of_all(work_out: Callable[..., Any]) -> Callable[..., Any]:
    known: dict[Any, Any] = {}

    def remembered(several: Any) -> Any:
        asked = tuple(map(tuple, several))
        if asked not in known:
            known[asked] = work_out(asked)
        return list(known[asked])

    return remembered
