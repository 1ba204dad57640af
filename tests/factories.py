"""Rows of the club for tests. Keyword-only, nothing made by the way that was not asked for but what a row needs.

Names are invented; every email ends in .example.
"""

from datetime import date, timedelta
from typing import Any

import factory
from django.db.backends.postgresql.psycopg_any import DateRange
from factory.django import DjangoModelFactory

from club.choices import Role, Rule
from club.models import (
    AgeGroup,
    BibStock,
    ClubSettings,
    Guideline,
    KitStock,
    Pitch,
    Player,
    PlayerSquad,
    Season,
    Squad,
    SquadSeason,
    StaffChecks,
    StaffRole,
    Theme,
    User,
    Zone,
)
from club.queries import today

PASSWORD = "four plain words here"


def season_around(day: date) -> DateRange:
    """The season from July to June that holds a day."""
    first = date(day.year if day.month >= 7 else day.year - 1, 7, 1)
    return DateRange(first, first.replace(year=first.year + 1))


class ClubSettingsFactory(DjangoModelFactory):
    class Meta:
        model = ClubSettings

    id = 1
    name = "Ashmere Rovers"


class UserFactory(DjangoModelFactory):
    """Somebody with an account and no role."""

    class Meta:
        model = User
        skip_postgeneration_save = True

    email = factory.Sequence(lambda n: f"person{n}@ashmere.example")
    name = factory.Sequence(lambda n: f"Person {n}")
    password = factory.django.Password(PASSWORD)

    @factory.post_generation
    def vetted(made: User, create: bool, given: Any, **more: Any) -> None:
        """Counts as an adult on any day, unless `vetted=False`."""
        if create and given is not False:
            StaffChecks.objects.create(user=made, of_age=True, vetting_until=date(2099, 12, 31))


class SeasonFactory(DjangoModelFactory):
    class Meta:
        model = Season

    name = factory.LazyAttribute(lambda made: f"{made.period.lower.year}")
    period = factory.LazyFunction(lambda: season_around(today()))


class AgeGroupFactory(DjangoModelFactory):
    class Meta:
        model = AgeGroup

    season = factory.SubFactory(SeasonFactory)
    label = factory.Sequence(lambda n: f"U{n + 20}")
    under = 12
    match_format = "9v9"
    session_minutes = 75
    session_load_au = 340
    week_load_au = 1000


class SquadFactory(DjangoModelFactory):
    """A squad in no age group; `placed_squad` puts one into its season."""

    class Meta:
        model = Squad

    name = factory.Sequence(lambda n: f"Squad {n}")


def placed_squad(*, age_group: AgeGroup, **fields: Any) -> Squad:
    """A squad in an age group for the age group's season."""
    squad = SquadFactory(**fields)
    SquadSeason.objects.create(squad=squad, age_group=age_group, season=age_group.season)
    return squad


class PlayerFactory(DjangoModelFactory):
    """A player in no squad; `player_in` puts one into a squad."""

    class Meta:
        model = Player

    display_name = factory.Sequence(lambda n: f"Child {n}")


def player_in(*, squad: Squad, since: date | None = None, **fields: Any) -> Player:
    """A player of a squad, for a month already unless said."""
    player = PlayerFactory(**fields)
    since = since or today() - timedelta(days=30)
    period = DateRange(since, None)
    PlayerSquad.objects.create(player=player, squad=squad, period=period, shirt=player.shirt)
    return player


def role_for(*, user: User, role: Role, age_group: AgeGroup | None = None) -> StaffRole:
    """A role since a month, without end."""
    period = DateRange(today() - timedelta(days=30), None)
    return StaffRole.objects.create(user=user, role=role, age_group=age_group, period=period)


class PitchFactory(DjangoModelFactory):
    """A pitch without zones."""

    class Meta:
        model = Pitch

    name = factory.Sequence(lambda n: f"Pitch {n}")


class ZoneFactory(DjangoModelFactory):
    class Meta:
        model = Zone

    pitch = factory.SubFactory(PitchFactory)
    name = factory.Sequence(lambda n: f"Zone {n}")
    position = factory.LazyAttribute(lambda zone: zone.pitch.zones.count())
    length_m = 50
    width_m = 40


class KitStockFactory(DjangoModelFactory):
    class Meta:
        model = KitStock

    kind = factory.Sequence(lambda n: f"kind {n}")
    count = 10
    position = factory.Sequence(lambda n: n)


class BibStockFactory(DjangoModelFactory):
    class Meta:
        model = BibStock

    colour = factory.Iterator(["red", "blue", "yellow", "green", "orange"])
    count = 10
    position = factory.Sequence(lambda n: n)


class ThemeFactory(DjangoModelFactory):
    class Meta:
        model = Theme

    key = factory.Sequence(lambda n: f"theme-{n}")
    title = factory.Sequence(lambda n: f"Theme {n}")
    moment = "in possession"


class GuidelineFactory(DjangoModelFactory):
    """An invented figure of an invented league: tests of published values load the real ones."""

    class Meta:
        model = Guideline

    rule = Rule.BALL_SIZE
    under_low = factory.Sequence(lambda n: 20 + n)
    under_high = factory.LazyAttribute(lambda made: made.under_low)
    jurisdiction = "Ashmere League"
    value = 4
    source = "Ashmere League, rules of play"
    valid = DateRange(date(2020, 1, 1), None)
