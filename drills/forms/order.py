"""The order of repeated rows, changed by buttons or by dragging: what was typed moves as a whole, with a script or without."""

import re
from collections.abc import Mapping
from typing import Any

from django.utils.datastructures import MultiValueDict

from club import reading

MOVE = re.compile(r"([a-z]{1,20})-([0-9]{1,2})-(?:(up|down)|to-([0-9]{1,2}))")


def list_of(move: str) -> str:
    """The list whose rows a button such as `variations-1-up` or `variations-3-to-0` moves; "" for anything else."""
    found = MOVE.fullmatch(move)
    return found[1] if found else ""


def moved(data: Mapping[str, Any], move: str) -> Mapping[str, Any]:
    """The typed data with a row in another place, those between moved up; as it was where there is no such place."""
    found = MOVE.fullmatch(move)
    if found is None:
        return data
    name, place = found[1], int(found[2])
    other = int(found[4]) if found[4] else place + (1 if found[3] == "down" else -1)
    total = reading.whole(data.get(f"{name}-TOTAL_FORMS"), 1, 99)
    if total is None or not (0 <= other < total and place < total):
        return data
    order = list(range(total))
    order.insert(other, order.pop(place))
    ways = {f"{name}-{old}-": f"{name}-{new}-" for new, old in enumerate(order)}
    made: MultiValueDict[str, Any] = MultiValueDict()
    for key in data:
        stem = next((each for each in ways if key.startswith(each)), "")
        values = data.getlist(key) if isinstance(data, MultiValueDict) else [data[key]]
        made.setlist(ways.get(stem, "") + key.removeprefix(stem), values)
    return made
