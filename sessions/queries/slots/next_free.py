"""A coach's next free slots: where "Plan a session" begins when no slot was pointed at."""

from datetime import datetime, timedelta

from club.actor import Actor
from sessions.choices import State
from sessions.models import TrainingSession
from sessions.queries.slots.taken import DAYS_AHEAD
from sessions.queries.slots.weekly import FreeSlot, free_slots, slots_of


def next_free_slots(actor: Actor, now: datetime, *, most: int) -> list[FreeSlot]:
    """Up to `most` slots of the next four weeks that nothing fills, that no other team has taken and that have not begun
    by `now` (the club's wall clock), the soonest first. Two queries.

    Those that name this person as a coach, where they have one free; else all of the age groups that they coach, and the
    director's are all.
    """
    today = now.date()
    last = today + timedelta(days=DAYS_AHEAD)
    groups = None if actor.is_director else actor.coach_of
    slots = list(slots_of(today, last, age_group_ids=groups))
    filling = TrainingSession.objects.filter(slot__in=[each.pk for each in slots], slot_day__gte=today)
    sessions = filling.exclude(state=State.CANCELLED).only("slot_id", "slot_day", "state")
    free = [
        each
        for each in free_slots(slots, sessions, today, last)
        if each.taken_by is None and (each.day > today or each.slot.starts > now.time())
    ]
    own = [each for each in free if actor.user_id in {row["pk"] for row in each.slot.coach_rows}]
    return (own or free)[:most]
