"""Everything set up at once at the pitch: what became of each part, and what takes the place of its plans and teams."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sessions.pages.everything.lines import AllSetUp, all_set_up
from sessions.pages.pitch.fitting import SetupShown, setup_shown
from sessions.pages.pitch.standing import Standing, standing_of
from sessions.queries.pitch import ACCEPTED, Happened
from sessions.queries.set_up import stations_to_set_up

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class PartRedrawn:
    """A part whose set-up has changed; `event` is what happened, as the phone keeps it."""

    key: str
    event: str
    shown: SetupShown

    @property
    def set_up(self) -> Any:
        return self.shown.set_up


@dataclass(frozen=True)
class EverythingShown:
    """The list, the parts to be drawn anew, and by part how it stands now."""

    found: AllSetUp
    parts: list[PartRedrawn]
    standing: dict[str, Standing]

    @property
    def standing_data(self) -> str:
        return json.dumps({key: asdict(each) for key, each in self.standing.items()})


def planned_rungs(session: TrainingSession) -> dict[str, str]:
    """By part, the rung that the page's ladder goes by: that of its first station, before anything is changed."""
    return {str(part.public_id): _first(part).variation_key for part in session.parts.all() if _first(part)}


def everything_shown(
    session: TrainingSession,
    players: int,
    changed: frozenset[UUID],
    planned: dict[str, str],
    so_far: Happened,
) -> EverythingShown:
    """What the phone is answered; `so_far` holds an event for each station that was changed, the last of a part's first counts."""
    accepted = (each for each in so_far.events if each["kind"] == ACCEPTED and not each.get("station"))
    events = {each["part"]: each for each in accepted}
    parts = []
    for part in session.parts.all():
        key, station = str(part.public_id), _first(part)
        if station is not None and station.public_id in changed:
            event = json.dumps(events[key])
            parts.append(
                PartRedrawn(key, event, setup_shown(session, station, planned[key], f"s{part.position}-"))
            )
    return EverythingShown(all_set_up(session, players, changed=changed), parts, _standing(session, players))


def _standing(session: TrainingSession, players: int) -> dict[str, Standing]:
    asked = stations_to_set_up(session, players)
    return {
        str(part.public_id): standing_of(part, (each.stale for each in asked if each.part.pk == part.pk))
        for part in session.parts.all()
    }


def _first(part: Any) -> Any:
    return next(iter(part.stations.all()), None)
