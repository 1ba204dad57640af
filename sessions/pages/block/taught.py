"""What a team is taught of a theme, session by session; and what teams are taught between two days."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from club import queries as club
from club.actor import Actor
from sessions.access import sees_weeks
from sessions.pages.block.at_hand import BlockAtHand, by_team, minutes_of_block, themes_of
from sessions.planning.taught import OnTheme
from sessions.queries.block.taught import Taught, taught_between, taught_by
from sessions.queries.rows import sessions_between
from sessions.queries.slots.weekly import slots_of

if TYPE_CHECKING:
    pass


@dataclass(frozen=True)
class TaughtPage:
    """The sessions of a team in a block that are on one theme, with its minutes in each."""

    block: Any
    team: Any
    theme: Any
    done: list[tuple[Taught, float]]
    to_come: list[tuple[Taught, float]]
    minutes: OnTheme


def taught_page(block: Any, team: Any, theme: Any) -> TaughtPage:
    """Behind a number of the block's page: the same minutes, session by session. Seven queries."""
    sessions = sessions_between(block.first_day, block.last_day, squad_id=team.pk)
    taught = taught_by(sessions)
    at_hand = BlockAtHand(
        sessions={team.pk: sessions},
        taught={team.pk: taught},
        slots=by_team(each for each in slots_of(block.first_day, block.last_day) if each.squad_id == team.pk),
        games={},
        closed={},
        shares=club.shares_of(block),
        themes={},
        today=club.today(),
    )
    shares = at_hand.shares.get(team.age_group_id, {})
    found = themes_of(taught, shares, minutes_of_block(team, block, at_hand))
    on_it = [(each, each.themes[theme.key]) for each in taught if each.themes.get(theme.key)]
    return TaughtPage(
        block=block,
        team=team,
        theme=theme,
        done=[each for each in on_it if each[0].is_done],
        to_come=[each for each in on_it if not each[0].is_done],
        minutes=found.get(theme.key, OnTheme()),
    )


@dataclass(frozen=True)
class TeamTaught:
    """Minutes of a team between two days, and on each theme that it was taught or will be."""

    team: Any
    done: float
    planned: float
    themes: list[tuple[Any, OnTheme]]


def coverage(actor: Actor, first: date, last: date) -> list[TeamTaught]:
    """What teams are taught between two days, both included: those whose weeks may be seen. Five queries, or six."""
    themes = {each.key: each for each in club.themes()}
    teams = [each for each in club.squads() if sees_weeks(actor, each.age_group_id)]
    of_team: dict[int, list[Taught]] = by_team(
        taught_between(first, last, age_group_ids={each.age_group_id for each in teams}),
        of=lambda each: each.session.squad_id,
    )
    return [_team_taught(each, of_team.get(each.pk, []), themes) for each in teams]


def _team_taught(team: Any, taught: Sequence[Taught], themes: Mapping[str, Any]) -> TeamTaught:
    found = themes_of(taught, {}, 0.0)
    return TeamTaught(
        team=team,
        done=sum(each.minutes for each in taught if each.is_done),
        planned=sum(each.minutes for each in taught if not each.is_done),
        themes=[(themes[key], each) for key, each in found.items() if key in themes],
    )
