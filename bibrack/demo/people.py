"""The demo club's season, age groups, staff, squads and places."""

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal
from itertools import count

from bibrack.demo import library
from bibrack.demo.words import (
    BIBS,
    CHECKS,
    GROUNDS,
    GROUPS,
    IN_AN_EMERGENCY,
    INITIALS,
    KIT,
    NAMES,
    PITCHES,
    STAFF,
    DemoAgeGroup,
)
from club import actions
from club.choices import Role, Surface
from club.models import AgeGroup, Season, Squad, User, Zone
from sessions.planning.load import default_weekly_budget, weekly_target_cr10

NEW_FORMATS_FROM = 2026
YOUNGEST_WITH_LOAD = 11  # under so many years


def add_season(today: date) -> Season:
    """The season that holds today, from July to June."""
    year = today.year if today.month >= 7 else today.year - 1
    return actions.add_season(
        name=f"{year}-{(year + 1) % 100:02}", first_day=date(year, 7, 1), last_day=date(year + 1, 6, 30)
    )


def add_groups(season: Season) -> dict[str, AgeGroup]:
    """Age groups with the season's formats and a first budget each."""
    return {each.label: _add_group(season, each, position) for position, each in enumerate(GROUPS)}


def _add_group(season: Season, group: DemoAgeGroup, position: int) -> AgeGroup:
    new = season.period.lower.year >= NEW_FORMATS_FROM
    target = weekly_target_cr10(group.under)
    week = default_weekly_budget(
        under=group.under, sessions=group.sessions, minutes=group.minutes, match_minutes=group.match_minutes
    )
    match_format = group.new_format if new else group.old_format
    length_m, width_m = GROUNDS.get(match_format) or GROUNDS[group.label]
    return actions.add_age_group(
        season=season,
        label=group.label,
        position=position,
        under=group.under,
        match_format=match_format,
        match_length_m=Decimal(str(length_m)),
        match_width_m=Decimal(str(width_m)),
        ball_size=group.ball,
        session_minutes=group.minutes,
        session_load_au=round(group.minutes * target) if target else None,
        week_load_au=round(week) if week else None,
        week_minutes=None if week else group.sessions * group.minutes + group.match_minutes,
        week_days=group.sessions + (1 if group.match_minutes else 0),
        hardest_part=7.5 if group.under >= YOUNGEST_WITH_LOAD else 6,
    )


def add_staff(groups: Mapping[str, AgeGroup], season: Season, today: date) -> dict[str, User]:
    """Accounts that can be entered by a one-time link only."""
    people = {}
    for email, name, roles in STAFF:
        user = actions.add_user(email=email, name=name)
        for role, label in roles:
            actions.give_role(
                user=user, role=Role(role), age_group=groups.get(label), since=season.period.lower
            )
        if email in CHECKS:
            _add_checks(user, CHECKS[email], today)
        people[email] = user
    return people


def _add_checks(user: User, days: tuple[int | None, ...], today: date) -> None:
    vetting, safeguarding, first_aid = (
        None if each is None else today + timedelta(days=each) for each in days
    )
    actions.save_checks(
        user=user,
        version=0,
        of_age=True,
        vetting_until=vetting,
        safeguarding_until=safeguarding,
        first_aid_until=first_aid,
    )


def add_squads(groups: Mapping[str, AgeGroup], season: Season) -> dict[str, Squad]:
    """One squad for each age group, with invented players."""
    numbers = count()
    squads = {}
    for group in GROUPS:
        squad = actions.add_squad(name=group.squad, age_group=groups[group.label])
        for shirt in range(1, group.players + 1):
            index = next(numbers)
            initial = INITIALS[(index * 7 + index // len(NAMES)) % len(INITIALS)]
            actions.add_player(
                squad=squad,
                display_name=f"{NAMES[index % len(NAMES)]} {initial}",
                shirt=shirt,
                is_keeper=shirt == 1 and group.under >= 10,
                since=season.period.lower,
            )
        squads[group.label] = squad
    return squads


def add_places() -> dict[tuple[str, str], Zone]:
    """Pitches with their zones, the bag of kit, bibs and themes."""
    zones = {}
    for position, (name, surface, lights, parts) in enumerate(PITCHES):
        address, gate, defibrillator = IN_AN_EMERGENCY[name]
        pitch = actions.add_pitch(
            name=name,
            address=address,
            ambulance_gate=gate,
            defibrillator=defibrillator,
            surface=Surface(surface),
            has_lights=lights,
            position=position,
            zones=[
                {"name": zone, "length_m": length, "width_m": width, "fixed_goals": list(goals)}
                | {f"edge_{edge}": stands for edge, stands in edges.items()}
                for zone, length, width, edges, goals in parts
            ],
        )
        for zone in pitch.zones.all():
            zones[(name, zone.name)] = zone
    for position, (kind, number) in enumerate(KIT):
        actions.set_kit(kind=kind, count=number, position=position)
    for position, (colour, number) in enumerate(BIBS):
        actions.set_bibs(colour=colour, count=number, position=position)
    library.add_themes()
    return zones
