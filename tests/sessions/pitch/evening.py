"""An evening of the under-twelves: two parts without drills, three players, one guest from another squad."""

import uuid
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from bibrack.demo.library import FOLDER
from club import queries as club
from drills import actions as library
from drills.game.document import decode
from sessions import actions
from sessions.actions import DayAndTimes, PartInput
from sessions.actions.parts import StationInput
from sessions.bridge import local_moment
from sessions.choices import PartKind
from sessions.models import TrainingSession
from tests.factories import player_in


@dataclass(frozen=True)
class Evening:
    """A session from 18:00 for an hour, its people and players; `event` makes an event so many minutes into it."""

    session: TrainingSession
    people: Any
    players: list[str]
    guest: str
    foreign: str
    starts: datetime
    parts: list[str]

    def event(self, kind: str, minute: float = 0, **body: Any) -> dict[str, Any]:
        at = self.starts + timedelta(minutes=minute)
        return {"id": str(uuid.uuid4()), "kind": kind, "at": at.isoformat(), **body}

    def append(self, *events: Any, actor: Any = None, **given: Any) -> list[actions.EventOutcome]:
        actor = actor or club.actor_of(self.people.coach)
        given = {"device": "test", **given}
        return actions.append_events(actor=actor, session=self.session, events=list(events), **given)

    def read(self) -> TrainingSession:
        return TrainingSession.objects.get(pk=self.session.pk)


def make_evening(world: Any, *, place: Any) -> Evening:
    """An evening of one of the world's squads."""
    session = actions.plan_session(
        age_group_id=place.age_group.pk,
        squad_id=place.squad.pk,
        when=DayAndTimes(club.today(), time(18), time(19)),
        title="Early doors",
        players_expected=12,
    )
    session = actions.save_parts(
        actor=club.actor_of(world.people.director),
        session=session,
        version=session.version,
        parts=[_part(PartKind.WARM_UP, 10, 3.0), _part(PartKind.GAME, 40, 6.0)],
    )
    more = [player_in(squad=place.squad, display_name=f"Child {place.age_group.label} {n}") for n in (1, 2)]
    return Evening(
        session=session,
        people=world.people,
        players=[str(each.public_id) for each in (place.player, *more)],
        guest=str(world.colleague.player.public_id),
        foreign=str(world.foreign.player.public_id),
        starts=local_moment(session.day, time(18), club.club_settings().time_zone),
        parts=[str(each.public_id) for each in session.parts.order_by("position")],
    )


def _part(kind: PartKind, minutes: int, effort: float, *stations: StationInput) -> PartInput:
    return PartInput(
        kind=kind,
        minutes=minutes,
        bouts=2,
        bout_s=minutes * 30 - 30,
        rest_s=60,
        changeover_s=60,
        effort=effort,
        stations=stations,
    )


def put_drills(evening: Evening, *slugs: str) -> TrainingSession:
    """Put drills of the demo library into the evening's parts, by slug."""
    director = club.actor_of(evening.people.director)
    parts = []
    for slug in slugs:
        document = decode((FOLDER / f"{slug}.json").read_bytes())
        drill = library.create_drill(actor=director, document=document)
        station = StationInput(drill_id=drill.public_id, variation_key="")
        parts.append(_part(PartKind.PRACTICE, 12, 5.0, station))
    session = evening.read()
    return actions.save_parts(actor=director, session=session, version=session.version, parts=parts)
