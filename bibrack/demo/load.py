"""Load the demo club through the same actions that people use. Loading twice changes nothing."""

from django.db import transaction

from bibrack.demo import library, people, training
from bibrack.demo.words import CLUB, TIME_ZONE
from club import actions, queries


@transaction.atomic
def load() -> bool:
    """Fill an empty database with the demo club. Returns False when there is a club already."""
    if not queries.club_settings()._state.adding:
        return False
    actions.save_settings(
        version=1,
        name=CLUB,
        time_zone=TIME_ZONE,
        is_demo=True,
        part_order=["arrival", "warm-up", "practice", "game"],
    )
    actions.load_guidelines()
    today = queries.today()
    season = people.add_season(today)
    groups = people.add_groups(season)
    staff = people.add_staff(groups, season)
    squads = people.add_squads(groups, season)
    zones = people.add_places()
    drills = library.add_drills(staff)
    training.add_weeks(today, groups=groups, squads=squads, staff=staff, zones=zones, drills=drills)
    return True
