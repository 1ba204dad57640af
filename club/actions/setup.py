"""The first evening: an administrator, the club's name, and a season to work in."""

from datetime import date

from club.actions.conflicts import action
from club.actions.guidelines import load_guidelines
from club.actions.people import set_up_administrator
from club.actions.places import save_settings
from club.actions.squads import add_season
from club.models import User
from club.queries.settings import club_settings, current_season


@action
def set_up_club(
    *,
    secret: str,
    email: str,
    name: str,
    password: str,
    club_name: str = "",
    time_zone: str = "",
    season_name: str = "",
    first_day: date | None = None,
    last_day: date | None = None,
) -> User:
    """Everything that a new club needs, or nothing. What is there already is left as it is."""
    user = set_up_administrator(secret=secret, email=email, name=name, password=password)
    if club_settings()._state.adding:
        save_settings(version=1, name=club_name.strip(), time_zone=time_zone)
    load_guidelines()
    if current_season() is None and first_day and last_day:
        add_season(name=season_name, first_day=first_day, last_day=last_day)
    return user
