"""A few people by role, and drills in each state."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.backends.postgresql.psycopg_any import DateRange

from club.actor import Actor
from club.models import AgeGroup, ClubSettings, Season, StaffRole, Theme, User
from club.queries import actor_of
from drills import actions
from drills.models import Drill
from tests.drills.samples import WHOLE

ALWAYS = DateRange(date(2020, 1, 1), None)


@dataclass(frozen=True)
class People:
    """`coach` owns the drills, `other` is a coach elsewhere, `stranger` has an account and no role."""

    director: User
    coach: User
    other: User
    helper: User
    reader: User
    stranger: User


def make_people() -> People:
    """A club with two age groups and a person for each role."""
    ClubSettings.objects.create(id=1, name="Alder Vale")
    season = Season.objects.create(name="Now", period=DateRange(date(2020, 1, 1), date(2040, 1, 1)))
    groups = [
        AgeGroup.objects.create(season=season, label=f"U{under}", under=under, match_format="9v9")
        for under in (12, 16)
    ]
    Theme.objects.create(key="keep-the-ball", title="Keep the ball", moment="in possession")
    roles = {"director": None, "coach": groups[0], "other": groups[1], "helper": groups[0], "reader": None}
    made = {name: User.objects.create_user(f"{name}@club.example", "x", name=name.title()) for name in roles}
    for name, group in roles.items():
        role = "coach" if name == "other" else name
        StaffRole.objects.create(user=made[name], role=role, age_group=group, period=ALWAYS)
    made["stranger"] = User.objects.create_user("stranger@club.example", "x", name="Stranger")
    return People(**made)


def acting(user: User) -> Actor:
    return actor_of(user)


def make(user: User, **changes: Any) -> Drill:
    return actions.create_drill(actor=actor_of(user), document={**WHOLE, **changes})
