"""The page of weeks: four Mondays across, and where earlier and later lead."""

from datetime import date, timedelta

import pytest

from club.queries import actor_of, today
from sessions.pages.weeks import Weeks, monday_of, weeks_page
from tests.people import World

MONDAY = date(2026, 3, 2)


def test_earlier_and_later_lead_past_what_is_shown() -> None:
    page = Weeks([MONDAY, MONDAY + timedelta(days=7)], MONDAY, MONDAY, [])
    assert (page.before, page.last_monday, page.after) == (
        date(2026, 2, 16),
        date(2026, 3, 9),
        date(2026, 3, 16),
    )


@pytest.mark.django_db
def test_four_weeks_stand_side_by_side(world: World) -> None:
    first = monday_of(today())
    page = weeks_page(actor_of(world.people.director), first)
    assert page.mondays == [first + timedelta(days=7 * n) for n in range(4)]
    assert (page.shown, page.this_monday) == (first, first)
