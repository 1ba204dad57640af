"""Sessions with a register, as tests of attendance want them."""

import uuid
from datetime import timedelta
from typing import Any

from django.utils import timezone

from club.queries import actor_of, club_settings, today
from sessions import actions
from sessions.bridge import local_moment
from tests.factories_sessions import planned_session
from tests.people import Place, World


def held(
    world: World, place: Place, days_ago: int, marks: dict[Any, str], *, done: bool = True, title: str = ""
) -> Any:
    """An hour and a quarter so many days ago; `marks` say of each player what the phone sends: `late` is 15 minutes,
    `left` after 45."""
    session = planned_session(
        place=place, by=world.people.director, day=today() - timedelta(days=days_ago), title=title
    )
    starts = local_moment(session.day, session.starts, club_settings().time_zone)
    starts = min(starts, timezone.now())  # nothing has happened tomorrow
    minutes = {"late": 15, "left": 45}
    events: list[dict[str, Any]] = []
    for player, kind in marks.items():
        body = {"minutes": minutes[kind]} if kind in minutes else {}
        events.append({"kind": kind, "at": starts, "player": str(player.public_id), **body})
    if done:
        events.append({"kind": "delivered", "at": starts + timedelta(minutes=75)})
    sent = [{"id": str(uuid.uuid4()), **each, "at": each["at"].isoformat()} for each in events]
    outcomes = actions.append_events(
        actor=actor_of(world.people.director), session=session, device="test", events=sent
    )
    assert {each.outcome for each in outcomes} <= {"taken"}
    return session
