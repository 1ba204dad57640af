"""Whose names a phone at the pitch may hold: the squad's, and guests from other squads of the same person."""

from dataclasses import dataclass, field

from club import queries as club
from club.actor import Actor
from sessions.models import TrainingSession

MOST_GUESTS_OFFERED = 120


@dataclass(frozen=True)
class PlayerShown:
    """A display name and a shirt number; nothing else is known of a player."""

    id: str
    name: str
    shirt: int | None
    squad: str = ""
    guest: bool = False


@dataclass(frozen=True)
class Guests:
    """Whom this person may add, and the squads whose names were read for it."""

    squad_ids: list[int] = field(default_factory=list)
    players: list[PlayerShown] = field(default_factory=list)

    @property
    def rows(self) -> list[dict[str, str]]:
        return [{"id": each.id, "name": each.name, "squad": each.squad} for each in self.players]


def players_for(actor: Actor, session: TrainingSession) -> list[PlayerShown]:
    """The squad's players on the day, by name, then tonight's guests; none for who doesn't work with the age group."""
    if not actor.works_with(session.age_group_id):
        return []
    found = club.players_of([session.squad_id], on=session.day)
    own = [PlayerShown(str(each.public_id), each.display_name, each.shirt) for each in found]
    return own + _guests_tonight(session, {each.id for each in own})


def _guests_tonight(session: TrainingSession, own: set[str]) -> list[PlayerShown]:
    """Guests who are on the register already. A query only where there are some."""
    ids = {each["player"] for each in session.delivery.get("guests", [])} - own
    found = club.players_by_id(ids, on=session.day) if ids else []
    return [PlayerShown(str(each.public_id), each.display_name, each.shirt, guest=True) for each in found]


def guests_for(actor: Actor, session: TrainingSession) -> Guests:
    """Players of other squads that this person may add: their own age groups', all of them for a director.

    Not in the page itself: a phone that is lost holds the names of one squad, and of others only once asked for.
    """
    if not actor.works_with(session.age_group_id):
        return Guests()
    groups = None if actor.is_director else actor.age_groups
    squads = {each.pk: each.name for each in club.squads(age_group_ids=groups) if each.pk != session.squad_id}
    if not squads:
        return Guests()
    found = club.players_of(list(squads), on=session.day)[:MOST_GUESTS_OFFERED]
    return Guests(
        list(squads),
        [
            PlayerShown(str(each.public_id), each.display_name, each.shirt, squads[each.squad_id])
            for each in found
        ],
    )
