"""A few people by role, as every test knows them, and three squads: one's own, a colleague's, and a foreign one."""

from dataclasses import dataclass, fields
from typing import Any

import pytest


@dataclass(frozen=True)
class People:
    """Everybody that a test may sign in. `nobody` is None: not signed in at all."""

    director: Any
    coach: Any  # of U12
    colleague: Any  # coach of U9
    helper: Any  # of U12
    reader: Any
    administrator: Any  # no other role
    stranger: Any  # signed in, no role at all
    nobody: None = None


NAMES = tuple(field.name for field in fields(People))


@dataclass(frozen=True)
class Place:
    """An age group with its squad and one player; each name is found nowhere else."""

    age_group: Any
    squad: Any
    player: Any


@dataclass(frozen=True)
class World:
    """The people, and three places seen from the coach: own (U12), colleague's (U9), foreign (U16, nobody's)."""

    people: People
    season: Any
    own: Place
    colleague: Place
    foreign: Place

    def places(self) -> dict[str, Place]:
        return {"own": self.own, "colleague": self.colleague, "foreign": self.foreign}


def make_world() -> World:
    """A season with three places and everybody in their role."""
    from club.choices import Role
    from tests.factories import ClubSettingsFactory, SeasonFactory, UserFactory, role_for

    ClubSettingsFactory()
    season = SeasonFactory()
    own = _place(season, 12, "Otters", "Ottilie Own")
    colleague = _place(season, 9, "Badgers", "Bertram Beside")
    foreign = _place(season, 16, "Foxes", "Fridolin Far")
    people = People(
        director=UserFactory(name="Dora Director", email="director@ashmere.example"),
        coach=UserFactory(name="Carl Coach", email="coach@ashmere.example"),
        colleague=UserFactory(name="Cleo Colleague", email="colleague@ashmere.example"),
        helper=UserFactory(name="Hedy Helper", email="helper@ashmere.example"),
        reader=UserFactory(name="Rolf Reader", email="reader@ashmere.example"),
        administrator=UserFactory(
            name="Alma Administrator", email="administrator@ashmere.example", is_superuser=True
        ),
        stranger=UserFactory(name="Stan Stranger", email="stranger@ashmere.example"),
    )
    role_for(user=people.director, role=Role.DIRECTOR)
    role_for(user=people.coach, role=Role.COACH, age_group=own.age_group)
    role_for(user=people.helper, role=Role.HELPER, age_group=own.age_group)
    role_for(user=people.colleague, role=Role.COACH, age_group=colleague.age_group)
    role_for(user=people.reader, role=Role.READER)
    return World(people=people, season=season, own=own, colleague=colleague, foreign=foreign)


def _place(season: Any, under: int, squad_name: str, player_name: str) -> Place:
    from tests.factories import AgeGroupFactory, placed_squad, player_in

    group = AgeGroupFactory(season=season, label=f"U{under}", under=under, position=under)
    squad = placed_squad(age_group=group, name=squad_name)
    player = player_in(squad=squad, display_name=player_name, shirt=7)
    return Place(age_group=group, squad=squad, player=player)


@pytest.fixture
def world(db: None) -> World:
    return make_world()


@pytest.fixture
def people(world: World) -> People:
    return world.people


def signed_in(person: Any) -> Any:
    """A browser of this person; of nobody for None."""
    from django.test import Client

    client = Client()
    if person is not None:
        client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client
