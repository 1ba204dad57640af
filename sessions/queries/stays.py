"""Kit that stays standing from one part to the next."""

from collections.abc import Iterable

from django.utils.translation import gettext as _

from drills.queries.words import kit_word
from sessions.queries.plan import PartView, SessionView


def stays_standing(view: SessionView) -> list[str]:
    """For each part, what may stay standing from the part before, in words; bibs are worn, not laid."""
    found: list[str] = []
    before: dict[str, int] = {}
    for part in view.parts:
        kit = _kit_at_once(part)
        both = {
            kind: min(count, before[kind]) for kind, count in kit.items() if kind in before and kind != "bibs"
        }
        found.append(_stays(both.items()))
        before = kit
    return found


def _stays(kit: Iterable[tuple[str, int]]) -> str:
    things = ", ".join(f"{count} {kit_word(kind, count)}" for kind, count in kit)
    if not things:
        return ""
    return _("Stays from the part before: {things}.").format(things=things)


def _kit_at_once(part: PartView) -> dict[str, int]:
    kit: dict[str, int] = {}
    for station in part.stations:
        for kind, count in station.kit.items():
            kit[kind] = kit.get(kind, 0) + count
    return kit
