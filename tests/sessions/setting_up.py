"""Sessions with small drills, to be set up for tonight's number."""

from typing import Any

from club.queries import actor_of
from drills.game.fits import fits
from sessions import actions, queries
from sessions.actions import PartInput
from sessions.bridge import evening_kept
from sessions.models import Station
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World
from tests.sessions.pitch.evening import Evening
from tests.sessions.proposing.evening import PLAIN


def drill(world: World, **changes: Any) -> Any:
    return shared_drill(owner=world.people.coach, **{**PLAIN, **changes})


def planned(world: World, *parts: PartInput, **changes: Any) -> Any:
    given = {"place": world.own, "by": world.people.coach, "players_expected": 12, "parts": parts}
    return planned_session(**{**given, **changes})


def rondos(world: World, count: int = 2) -> Any:
    rondo = drill(world)
    return planned(world, *(part_input(drill=rondo) for _ in range(count)))


def set_up(world: World, session: Any, **given: Any) -> frozenset[Any]:
    given = {"actor": actor_of(world.people.coach), "version": session.version, **given}
    return actions.set_up_all(session=session, **given)


def again(session: Any) -> Any:
    return queries.session_by_id(session.public_id)


def stations_of(session: Any) -> list[Station]:
    return [each for part in again(session).parts.all() for each in part.stations.all()]


def record(world: World, session: Any, *events: tuple[str, dict[str, Any]]) -> Any:
    """Send what happened, a minute apart; the session as it is afterwards."""
    evening = Evening(session, world.people, [], "", "", session.period.lower, [])
    sent = [evening.event(kind, minute, **body) for minute, (kind, body) in enumerate(events)]
    evening.append(*sent)
    return again(session)


def fits_of(session: Any, station: Station) -> Any:
    document = queries.station_of(again(session), station.public_id).drill.document
    return fits(document, station.variation_key, evening_kept(station))
