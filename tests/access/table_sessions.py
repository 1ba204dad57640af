"""Rows of the pages and endpoints of training. Players' names stand at the pitch, and in attendance."""

import uuid
from datetime import timedelta
from typing import Any

from django.utils import timezone

from club.queries import today
from tests.access.rows import (
    ANYWHERE,
    COACHES,
    DIRECTOR,
    EVERYBODY,
    NOWHERE,
    OWN,
    PLACES,
    PLANS,
    STAFF,
    WORKS,
    Row,
    squad,
)
from tests.people import Place, World

GONE = 302  # a save goes on to another page
NOT_JSON = 415  # past the decision, but what the test sends is no JSON

# The quickest drill to derive: one needs many of them here.
SMALL = {"format": "4v1", "activity": "rondo", "groups": [], "conditions": [], "variations": [], "phases": []}

# Sessions are read by the director, readers and every coach; a helper reads those of the own age group.
READS = {"helper": OWN, "administrator": NOWHERE}
# A squad's weeks: its staff, the director and readers.
WEEKS = {**WORKS, "reader": ANYWHERE, "administrator": NOWHERE}


def planned(world: World, place: Place) -> dict[str, Any]:
    from tests.factories_sessions import part_input, planned_session

    session = planned_session(place=place, by=world.people.director, parts=[part_input()])
    return {"public_id": session.public_id}


def station(world: World, place: Place) -> dict[str, Any]:
    from tests.factories_sessions import part_input, planned_session, shared_drill

    parts = [part_input(drill=shared_drill(owner=world.people.coach, **SMALL))]
    session = planned_session(place=place, by=world.people.director, parts=parts)
    return {"public_id": session.public_id, "station_id": session.parts.all()[0].stations.all()[0].public_id}


def slot(world: World, place: Place) -> dict[str, Any]:
    from tests.factories_sessions import weekly_slot

    return {"public_id": weekly_slot(place=place).public_id}


def done_slot(world: World, place: Place) -> dict[str, Any]:
    from tests.factories_sessions import done_in_slot, part_input, shared_drill

    drill = shared_drill(owner=world.people.coach, **SMALL)
    slot = done_in_slot(place=place, by=world.people.director, parts=[part_input(drill=drill)])
    return {"public_id": slot.public_id}


def next_week(world: World, place: Place) -> dict[str, Any]:
    return {"day": str(today() + timedelta(weeks=1))}


def entry(world: World, place: Place) -> dict[str, Any]:
    from sessions import actions
    from sessions.choices import Kind

    made = actions.add_ledger_entry(
        squad_id=place.squad.pk,
        day=today(),
        kind=Kind.MATCH,
        title="Cup",
        minutes=60,
        effort=6,
        entered_by_id=world.people.director.pk,
    )
    return {**squad(world, place), "entry_id": made.public_id}


def of_squad(world: World, place: Place) -> dict[str, Any]:
    return {**squad(world, place), "session_id": planned(world, place)["public_id"]}


def week(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": place.age_group.public_id, "iso_week": "2026-W48"}


def a_part(world: World, place: Place) -> dict[str, Any]:
    from sessions import queries

    found = planned(world, place)
    session = queries.session_by_id(found["public_id"])
    assert session is not None
    return {**found, "part_id": session.parts.all()[0].public_id}


def a_link(world: World, place: Place) -> dict[str, Any]:
    from sessions.models import SessionLink
    from tests.factories_sessions import planned_session

    session = planned_session(place=place, by=world.people.director)
    link = SessionLink.objects.create(
        session=session, secret_hash=uuid.uuid4().hex, expires_at=timezone.now() + timedelta(days=7)
    )
    return {"public_id": session.public_id, "session_link_id": link.public_id}


def a_fixture(world: World, place: Place) -> dict[str, Any]:
    from sessions.models import Fixture

    made = Fixture.objects.create(
        squad=place.squad, title="Cup", day=today(), source_uid="cup", changed_at=timezone.now()
    )
    return {"fixture_id": made.public_id}


def closed_days(world: World, place: Place) -> dict[str, Any]:
    from sessions import actions

    made = actions.close_days(title="Half-term", first_day=today(), last_day=today())
    return {"closed_id": made.public_id}


def no_calendar(world: World, place: Place) -> dict[str, Any]:
    return {"calendar_link_id": uuid.uuid4()}


def a_calendar(world: World, place: Place) -> dict[str, Any]:
    from sessions.models import CalendarLink

    link = CalendarLink.objects.create(
        reach="team",
        squad=place.squad,
        secret_hash=uuid.uuid4().hex,
        expires_at=timezone.now() + timedelta(days=7),
    )
    return {**squad(world, place), "calendar_link_id": link.public_id}


def a_pitch(world: World, place: Place) -> dict[str, Any]:
    from tests.factories import ZoneFactory

    return {"public_id": ZoneFactory().pitch.public_id}


def a_pitchs_calendar(world: World, place: Place) -> dict[str, Any]:
    from sessions.models import CalendarLink
    from tests.factories import ZoneFactory

    pitch = ZoneFactory().pitch
    link = CalendarLink.objects.create(
        reach="pitch",
        pitch=pitch,
        secret_hash=uuid.uuid4().hex,
        expires_at=timezone.now() + timedelta(days=7),
    )
    return {"public_id": pitch.public_id, "calendar_link_id": link.public_id}


def an_order(world: World, place: Place) -> dict[str, Any]:
    from club.queries import actor_of
    from sessions import actions, queries

    session = queries.session_by_id(planned(world, place)["public_id"])
    made = actions.keep_order(actor=actor_of(world.people.director), session=session, name="Usual")
    return {"public_id": made.public_id}


def attended(world: World, place: Place) -> dict[str, Any]:
    """A squad of whose players one stands on a register."""
    from club.queries import actor_of, club_settings
    from sessions import actions
    from sessions.bridge import local_moment
    from tests.factories_sessions import planned_session

    session = planned_session(place=place, by=world.people.director)
    at = local_moment(session.day, session.starts, club_settings().time_zone).isoformat()
    came = {"id": str(uuid.uuid4()), "kind": "arrived", "at": at, "player": str(place.player.public_id)}
    actions.append_events(
        actor=actor_of(world.people.director), session=session, device="test", events=[came]
    )
    return squad(world, place)


def library_drill(world: World, place: Place) -> dict[str, Any]:
    """A drill that everybody may read."""
    from club.queries import actor_of
    from tests.sessions.setting_up import drill

    made = drill(world)
    assert actor_of(world.people.director)
    return {"drill_id": made.public_id}


def ten_on_a_half(world: World, place: Place) -> dict[str, Any]:
    return {"players": 10, "length": 40, "width": 30}


def attended_asked(world: World, place: Place) -> dict[str, Any]:
    return {"squad": attended(world, place)["public_id"]}


def taught(world: World, place: Place) -> dict[str, Any]:
    """A block, a team and a theme."""
    from club import actions as club
    from tests.factories import ThemeFactory

    first = world.season.period.lower
    block = club.add_block(season=world.season, name="A block", first_day=first, last_day=first)
    return {
        "public_id": block.public_id,
        "squad_id": place.squad.public_id,
        "theme_id": ThemeFactory().public_id,
    }


def version(world: World, place: Place) -> dict[str, Any]:
    return {"version": 2}


def twelve(world: World, place: Place) -> dict[str, Any]:
    return {"players": 12, "version": 2}


ROWS = [
    Row("sessions:list", STAFF),
    Row("sessions:week", STAFF),
    Row("sessions:slots", STAFF),
    Row("sessions:new", COACHES),
    Row("sessions:ready-for", COACHES),
    Row("sessions:ready", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:ready", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=409),
    Row("sessions:use", COACHES, kwargs=library_drill, data=ten_on_a_half),
    Row("sessions:new-slot", DIRECTOR),
    Row("sessions:slot", DIRECTOR, kwargs=slot, at=PLACES),
    Row("sessions:slot-again", COACHES, kwargs=done_slot, data=next_week, at=PLACES, reach=PLANS),
    Row("sessions:slot-again", COACHES, "post", kwargs=done_slot, data=next_week, at=PLACES, reach=PLANS),
    Row("sessions:end-slot", DIRECTOR, "post", kwargs=slot, data=version, at=PLACES, through=GONE),
    Row("sessions:squad", STAFF, kwargs=squad, at=PLACES, reach=WEEKS),
    Row("sessions:block", STAFF),
    Row("sessions:block-taught", STAFF, kwargs=taught, at=PLACES, reach=WEEKS),
    Row("api-coverage", STAFF),
    Row("sessions:attendance", STAFF),
    Row("sessions:squad-attendance", STAFF, kwargs=attended, at=PLACES, reach=WEEKS, names=WORKS),
    Row("api-attendance", STAFF, data=attended_asked, at=PLACES, reach=WEEKS, names=WORKS),
    Row("sessions:add-entry", COACHES, "post", kwargs=squad, at=PLACES, reach=PLANS, through=400),
    Row("sessions:lighter", COACHES, "post", kwargs=of_squad, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:drop-entry", COACHES, "post", kwargs=entry, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:session", STAFF, kwargs=planned, at=PLACES, reach=READS),
    Row("sessions:edit", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:move", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:parts", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:share", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:share-end", COACHES, "post", kwargs=a_link, at=PLACES, reach=PLANS, through=302),
    Row("sessions:shared", EVERYBODY, kwargs=lambda world, place: {"secret": "no-such-secret"}, through=404),
    Row("calendar", EVERYBODY, kwargs=lambda world, place: {"secret": "no-such-secret"}, through=404),
    Row("sessions:pitch-lost", COACHES),
    Row("sessions:coach-away", COACHES),
    Row("sessions:days", STAFF),
    Row("sessions:days-matches", COACHES),
    Row("sessions:days-closed", DIRECTOR),
    Row("sessions:match-off", COACHES, "post", kwargs=a_fixture, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:closed-drop", DIRECTOR, "post", kwargs=closed_days, through=GONE),
    Row("sessions:calendar-own", STAFF),
    Row("sessions:calendar-own-end", STAFF, "post", kwargs=no_calendar, through=404),
    Row("sessions:calendar-team", COACHES, kwargs=squad, at=PLACES, reach=PLANS),
    Row(
        "sessions:calendar-team-end", COACHES, "post", kwargs=a_calendar, at=PLACES, reach=PLANS, through=GONE
    ),
    Row("sessions:calendar-pitch", DIRECTOR, kwargs=a_pitch),
    Row("sessions:calendar-pitch-end", DIRECTOR, "post", kwargs=a_pitchs_calendar, through=GONE),
    Row("sessions:calendar-club", DIRECTOR),
    Row("sessions:calendar-club-end", DIRECTOR, "post", kwargs=no_calendar, through=404),
    Row("sessions:cancel", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:together", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row("sessions:apart", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:cover", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:newer", COACHES, "post", kwargs=station, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:fit", COACHES, kwargs=station, at=PLACES, reach=PLANS),
    Row("sessions:station-plan", STAFF, kwargs=station, at=PLACES, reach=READS),
    Row("sessions:take", COACHES, "post", kwargs=station, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:mine", COACHES, "post", kwargs=station, at=PLACES, reach=READS, through=GONE),
    Row("sessions:drop", COACHES, "post", kwargs=station, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:set-up-all", COACHES, kwargs=planned, at=PLACES, reach=PLANS),
    Row(
        "sessions:set-up-all",
        COACHES,
        "post",
        kwargs=planned,
        data=twelve,
        at=PLACES,
        reach=PLANS,
        through=GONE,
    ),
    Row("sessions:sheet", STAFF, kwargs=planned, at=PLACES, reach=READS),
    Row("api-session-sheet", STAFF, kwargs=planned, at=PLACES, reach=READS),
    Row("api-session-ground", STAFF, kwargs=planned, at=PLACES, reach=READS),
    Row("sessions:reuse", COACHES, kwargs=planned, at=PLACES, reach=READS),
    Row("sessions:reuse-copy", COACHES, "post", kwargs=planned, at=PLACES, reach=READS, through=400),
    Row("sessions:reuse-weeks", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=400),
    Row("sessions:reuse-space", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=400),
    Row("sessions:reuse-order", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=GONE),
    Row("sessions:orders", COACHES),
    Row("sessions:order-drop", DIRECTOR, "post", kwargs=an_order, through=GONE),
    Row("api-session-copies", COACHES, "post", kwargs=planned, at=PLACES, reach=READS, through=NOT_JSON),
    Row(
        "api-session-copy-changes", COACHES, "post", kwargs=planned, at=PLACES, reach=READS, through=NOT_JSON
    ),
    Row("api-session-series", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=NOT_JSON),
    Row("api-session-plan-b", COACHES, kwargs=planned, at=PLACES, reach=PLANS, through=400),
    Row("api-session-order", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=NOT_JSON),
    Row("api-part-orders", STAFF),
    Row("api-session-ready", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=NOT_JSON),
    Row("sessions:stations", COACHES, kwargs=a_part, at=PLACES, reach=PLANS),
    Row("api-sessions", STAFF),
    Row("api-sessions", COACHES, "post", through=NOT_JSON),
    Row("api-session", STAFF, kwargs=planned, at=PLACES, reach=READS),
    Row("api-session", COACHES, "patch", kwargs=planned, at=PLACES, reach=PLANS, through=428),
    Row("api-session-cancel", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=428),
    Row("api-session-together", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=428),
    Row("api-session-together", COACHES, "delete", kwargs=planned, at=PLACES, reach=PLANS, through=428),
    Row("api-station-setup", COACHES, "post", kwargs=station, at=PLACES, reach=PLANS, through=428),
    Row("api-session-part-move", COACHES, "post", kwargs=a_part, at=PLACES, reach=PLANS, through=428),
    Row("api-session-setups", COACHES, "post", kwargs=planned, at=PLACES, reach=PLANS, through=428),
    Row("api-slots", STAFF),
    Row("api-slots", DIRECTOR, "post", through=NOT_JSON),
    Row("api-slot", STAFF, kwargs=slot, at=PLACES),
    Row("api-slot", DIRECTOR, "put", kwargs=slot, at=PLACES, through=428),
    Row("api-age-group-week", STAFF, kwargs=week, at=PLACES, reach=WEEKS),
    Row("api-rotations", STAFF, "post", through=NOT_JSON),
    Row("api-next-game", STAFF, "post", through=NOT_JSON),
]
