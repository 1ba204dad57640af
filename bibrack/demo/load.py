"""Load the demo club through the same actions that people use, and clear it. Loading twice changes nothing."""

from decimal import Decimal

from django.apps import apps
from django.core.management.base import CommandError
from django.db import connection, transaction

from bibrack.demo import library, people, training
from bibrack.demo.words import CLUB, LATITUDE, LONGITUDE, TIME_ZONE, WELFARE_PHONE
from club import actions, queries

ROOMS = ("club", "drills", "training")


@transaction.atomic
def load() -> bool:
    """Fill an empty database with the demo club. Returns False when there is a club already."""
    if not queries.club_settings()._state.adding:
        return False
    actions.save_settings(
        version=1,
        name=CLUB,
        time_zone=TIME_ZONE,
        latitude=Decimal(LATITUDE),
        longitude=Decimal(LONGITUDE),
        is_demo=True,
        welfare_phone=WELFARE_PHONE,
        part_order=["arrival", "warm-up", "practice", "game"],
    )
    actions.load_guidelines()
    today = queries.today()
    season = people.add_season(today)
    groups = people.add_groups(season)
    staff = people.add_staff(groups, season, today)
    squads = people.add_squads(groups, season)
    zones = people.add_places()
    drills = library.demo_drills(staff)
    actions.divide_season(season=season)
    library.add_ready_sessions(queries.actor_of(staff["director@demo.example"]), drills)
    training.add_weeks(today, groups=groups, squads=squads, staff=staff, zones=zones, drills=drills)
    return True


@transaction.atomic
def clear() -> None:
    """Take every row of our rooms away. Refused when the club in the database isn't the demo club."""
    settings = queries.club_settings()
    if settings._state.adding:
        return
    if not settings.is_demo:
        raise CommandError("This database holds a real club; the demo club is only loaded into an empty one.")
    tables = [
        model._meta.db_table
        for room in ROOMS
        for model in apps.get_app_config(room).get_models(include_auto_created=True)
    ]
    quoted = ", ".join(connection.ops.quote_name(table) for table in tables)
    with connection.cursor() as cursor:
        cursor.execute(f"TRUNCATE {quoted} RESTART IDENTITY CASCADE")
