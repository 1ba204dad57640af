"""Other teams' weekly slots: taken only by whoever was told whose it is, and said yes."""

from django.utils.translation import gettext as _

from club.errors import AskFirst
from sessions.actions.frames import DayAndTimes, ZonesAndStaff
from sessions.queries.slots.taken import empty_slots_of_others


def heed_slots(*, squad_id: int, when: DayAndTimes, place: ZonesAndStaff, confirm: str = "") -> None:
    """Raises AskFirst where this takes an empty slot of another team that `confirm` doesn't name."""
    found = empty_slots_of_others(squad_id, when.day, when.starts, when.ends, list(place.zone_ids))
    if not found:
        return
    token = " ".join(sorted(f"{when.day:%Y%m%d}-{each.public_id}" for each in found))
    if set(token.split()) <= set(confirm.split()):
        return
    words = _(
        "This is the weekly slot of {team}: {slot}–{ends}, {zones}. They have planned nothing in it on that day yet."
    )
    texts = [
        words.format(
            team=each.squad.name,
            slot=each,
            ends=f"{each.ends:%H:%M}",
            zones="; ".join(str(zone) for zone in each.zones.all()),
        )
        for each in found
    ]
    raise AskFirst(" ".join([*texts, _("Ask them first, or choose another time or pitch.")]), token)
