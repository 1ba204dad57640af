"""SEQUENCE rises exactly when what calendars show of a session changes (RFC 5545, 3.8.7.4), whatever else is done to it."""

from collections.abc import Callable
from datetime import time, timedelta
from random import Random
from typing import Any

import pytest

from club.queries import actor_of, today
from sessions import actions, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.choices import State, WhyCancelled
from sessions.models import TrainingSession
from tests.factories import ThemeFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session
from tests.people import World
from tests.sessions.calendar.reading import address, entry, of_team, said

pytestmark = pytest.mark.django_db


class Desk:
    """A session that somebody keeps changing at random, from a list so short that many a change changes nothing."""

    def __init__(self, world: World, seed: int) -> None:
        self.random = Random(seed)
        self.changes = 0
        self.world = world
        self.zones = [ZoneFactory() for _ in range(2)]
        self.themes = [ThemeFactory() for _ in range(2)]
        day = today() + timedelta(days=3)
        self.session = planned_session(place=world.own, day=day)
        self.days = [day, day + timedelta(days=1)]

    def fresh(self) -> Any:
        row = queries.session_by_id(self.session.public_id)
        assert row is not None
        return row

    def change(self) -> None:
        pick, row = self.random.choice, self.fresh()
        if row.state == State.CANCELLED:
            return
        self.changes += 1
        starts = pick([time(18), time(17)])
        actions.change_session(
            session=row,
            version=row.version,
            when=DayAndTimes(pick(self.days), starts, pick([time(19, 15), time(19)])),
            place=ZonesAndStaff(
                tuple(self.random.sample([each.pk for each in self.zones], pick([0, 1, 2]))),
                tuple(
                    each.pk for each in pick([(), (self.world.people.coach,), (self.world.people.helper,)])
                ),
            ),
            title=pick(["", "Lanterns"]),
            theme_id=pick([None, *(each.pk for each in self.themes)]),
            players_expected=pick([12, 14]),
            note=pick(["", "Bring bibs"]),
        )

    def plan_parts(self) -> None:
        row = self.fresh()
        if row.state != State.CANCELLED:
            actions.save_parts(
                actor=actor_of(self.world.people.director),
                session=row,
                version=row.version,
                parts=[part_input() for _ in range(self.random.choice([1, 2]))],
            )

    def cancel(self) -> None:
        row = self.fresh()
        if row.state != State.CANCELLED and self.changes > 6:
            actions.cancel_session(session=row, version=row.version, why=WhyCancelled.WEATHER)

    def put_on_again(self) -> None:
        """By a projection of what happened, as a session that is on after all."""
        actions.rebuild(session=self.fresh())


@pytest.mark.parametrize("seed", range(8))
def test_it_rises_exactly_when_what_is_shown_changes(world: World, seed: int) -> None:
    desk = Desk(world, seed)
    where = address(world.people.director, of_team(world.own), with_place=True)
    steps: list[Callable[[], None]] = [
        desk.change,
        desk.change,
        desk.plan_parts,
        desk.cancel,
        desk.put_on_again,
    ]
    shown, count = _seen(where, desk.session)
    rises = 0
    for _ in range(25):
        desk.random.choice(steps)()
        now, after = _seen(where, desk.session)
        # A cancelled session has given its place up; that it is off is one change.
        assert after - count == (now != shown), (shown, now)
        rises += after - count
        shown, count = now, after
    assert 3 <= rises < 25


def _seen(where: str, session: TrainingSession) -> tuple[dict[str, str], int]:
    found = entry(where, session)
    return said(found), int(found.sequence.value)


def test_another_coach_is_a_revision_but_no_change_of_the_appointment(world: World) -> None:
    row = planned_session(place=world.own, day=today() + timedelta(days=3), staff=[world.people.coach])
    mark = row.calendar_mark
    actions.change_session(
        session=row,
        version=row.version,
        when=DayAndTimes(row.day, row.starts, row.ends),
        place=ZonesAndStaff((), (world.people.helper.pk,)),
        title=row.title,
        theme_id=row.theme_id,
        players_expected=row.players_expected,
    )
    after = queries.session_by_id(row.public_id).calendar_mark
    assert (after.sequence, after.people) == (0, [world.people.helper.pk])
    assert after.changed_at > mark.changed_at
