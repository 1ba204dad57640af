"""Drills, sessions and slots for tests, made through the same actions as everybody's. Keyword-only."""

from collections.abc import Sequence
from datetime import date, time, timedelta
from typing import Any

from club.queries import actor_of, today
from drills import actions as drills
from sessions import actions, queries
from sessions.actions import DayAndTimes, PartInput, StationInput, ZonesAndStaff
from sessions.choices import PartKind, State
from sessions.models import TrainingSession
from tests.drills.samples import WHOLE
from tests.factories import ZoneFactory

SIX = time(18)
QUARTER_PAST_SEVEN = time(19, 15)


def shared_drill(*, owner: Any, **changes: Any) -> Any:
    """A drill that the whole staff may use."""
    actor = actor_of(owner)
    drill = drills.create_drill(actor=actor, document={**WHOLE, **changes})
    return drills.send_for_review(actor=actor, public_id=drill.public_id)


def part_input(*, drill: Any = None, variation_key: str = "", **changes: Any) -> PartInput:
    """18 minutes: 4 bouts of 4 min with 40 s of rest between."""
    stations = (StationInput(drill_id=drill.public_id, variation_key=variation_key),) if drill else ()
    given = {"minutes": 18, "bouts": 4, "bout_s": 240, "rest_s": 40, "changeover_s": 120, "effort": 5.0}
    return PartInput(kind=PartKind.PRACTICE, stations=stations, **{**given, **changes})


def planned_session(
    *,
    place: Any,
    day: date | None = None,
    starts: time = SIX,
    ends: time = QUARTER_PAST_SEVEN,
    zones: Sequence[Any] = (),
    staff: Sequence[Any] = (),
    parts: Sequence[PartInput] = (),
    by: Any = None,
    **changes: Any,
) -> Any:
    """A session of a squad, today unless said; `by` is who puts the parts in."""
    made = actions.plan_whole(
        actor=actor_of(by),
        parts=list(parts),
        age_group_id=place.age_group.pk,
        squad_id=place.squad.pk,
        when=DayAndTimes(day or today(), starts, ends),
        place=ZonesAndStaff(tuple(each.pk for each in zones), tuple(each.pk for each in staff)),
        **changes,
    )
    return queries.session_by_id(made.public_id)


def weekly_slot(*, place: Any, zones: Sequence[Any] = (), coaches: Sequence[Any] = (), **changes: Any) -> Any:
    """A slot of a squad, from today for twenty weeks on today's weekday unless said."""
    first = today()
    given = {
        "weekday": first.isoweekday(),
        "starts": SIX,
        "ends": QUARTER_PAST_SEVEN,
        "first_day": first,
        "last_day": first + timedelta(weeks=20),
    }
    made = actions.make_slot(
        squad_id=place.squad.pk,
        zone_ids=[each.pk for each in zones or [ZoneFactory()]],
        coach_ids=[each.pk for each in coaches],
        **{**given, **changes},
    )
    return queries.slot_by_id(made.public_id)


def done_in_slot(*, place: Any, by: Any, zones: Sequence[Any] = (), **changes: Any) -> Any:
    """A slot of a squad whose last session, a week ago, took place; the slot."""
    first = today() - timedelta(weeks=1)
    clock = {name: changes[name] for name in ("starts", "ends") if name in changes}
    slot = weekly_slot(place=place, zones=zones, first_day=first, **clock)
    session = planned_session(place=place, by=by, day=first, zones=zones, slot=slot, **changes)
    TrainingSession.objects.filter(pk=session.pk).update(state=State.DELIVERED)
    return queries.slot_by_id(slot.public_id)
