"""What a browser or a proxy may keep of an answer: nothing, save for these routes, in which no person stands, and photos of a board."""

from typing import Any

MAY_BE_KEPT = {
    "api-drawing": "private, no-cache",
    "api-drawing-png": "private, no-cache",
    "api-drill-sketch-picture": "private, max-age=604800, immutable",
    "api-drills-schema": "public, max-age=3600",
    "calendar": "private, no-cache",
    "sessions:pitch-along": "private, no-cache",
    "drills:sketch": "private, max-age=604800, immutable",
}


def nobody_keeps(route: str, response: Any) -> None:
    """Fail where an answer may be kept that is not among those above; a refusal may never be kept."""
    told = {each.strip() for each in response.headers.get("Cache-Control", "").split(",")}
    if response.status_code in (200, 304) and route in MAY_BE_KEPT:
        assert response["Cache-Control"] == MAY_BE_KEPT[route], route
    else:
        assert {"private", "no-store"} <= told, (route, response.status_code, told)
