"""Where a new session could go: the next free slots, each in one line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from django.utils.formats import date_format

from club import queries as club
from club.actor import Actor
from sessions.queries.next_free import next_free_slots
from sessions.queries.rows import zone_words

if TYPE_CHECKING:
    from club.models import Squad
    from sessions.models import Slot

MOST_OFFERED = 4


@dataclass(frozen=True)
class FreeLine:
    """A free slot on a day: `Tue 8 Dec 18:00–19:15`, `U12 Herons`, `Mill Field: Lower half`."""

    slot: Slot
    day: date
    when: str
    team: str
    place: str


def next_free(actor: Actor, squads: Iterable[Squad]) -> list[FreeLine]:
    """The slots that "Plan a session" offers, the soonest first; `squads` are those of the season. Two queries."""
    found = next_free_slots(actor, club.club_now(), most=MOST_OFFERED)
    teams = {each.pk: f"{each.age_group_label} {each.name}" for each in squads}
    return [
        FreeLine(
            slot=each.slot,
            day=each.day,
            when=f"{date_format(each.day, 'D j M')} {each.slot.starts:%H:%M}–{each.slot.ends:%H:%M}",
            team=teams.get(each.slot.squad_id, each.slot.squad.name),
            place=zone_words(each.slot.zone_rows),
        )
        for each in found
    ]
