"""What is done with a drill that was set up on its own page: run it now, or put it into a session."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from club import queries as club
from club.actor import Actor
from sessions.choices import STILL_TO_COME
from sessions.pages.tiles import SessionTile, tiles
from sessions.queries import sessions_between

AHEAD_DAYS, MOST_SESSIONS = 14, 8


@dataclass(frozen=True)
class UsePage:
    """Teams that this person plans for, the own ones first, and their next sessions."""

    squads: list[Any]
    sessions: list[SessionTile]


def use_page(actor: Actor) -> UsePage:
    """Where a drill can be used by this person."""
    squads = [each for each in club.squads() if actor.plans_for(each.age_group_id)]
    own = sorted(squads, key=lambda each: (each.age_group_id not in actor.age_groups, each.name))
    today = club.today()
    ids = {each.age_group_id for each in own}
    ahead = [
        each
        for each in sessions_between(today, today + timedelta(days=AHEAD_DAYS))
        if each.state in STILL_TO_COME and each.age_group_id in ids
    ]
    mine_first = sorted(
        ahead, key=lambda each: (each.age_group_id not in actor.age_groups, each.day, each.starts)
    )
    return UsePage(own, tiles(mine_first[:MOST_SESSIONS], prefix="use-", pictures=False))
