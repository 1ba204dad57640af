"""The figures in force are the figures in use: each place that counts adults, heading or hours reads the same row."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.db.backends.postgresql.psycopg_any import DateRange
from django.test import Client
from django.urls import reverse

from club.actions.guidelines import add_guideline, load_guidelines
from club.choices import BOUNDS, Rule
from club.models import Guideline
from club.queries import guidelines_for, today
from sessions.pages.session import session_page
from sessions.pages.sheet.session import session_sheet
from sessions.proposals.queries.set_up import _evening
from sessions.proposals.queries.tonight import wish_for
from sessions.queries import session_by_id, session_view
from sessions.queries.guides import header_rule, week_limits
from sessions.queries.laying import evening_to_lay
from tests.factories_sessions import part_input, planned_session
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db

OURS = "Our own committee, 2026"


def own(
    rule: Rule, value: float, *, unders: tuple[int, int] = (12, 12), since: date | None = None
) -> Guideline:
    return add_guideline(
        rule=rule,
        under_low=unders[0],
        under_high=unders[1],
        jurisdiction="Club",
        value=value,
        source=OURS,
        valid=DateRange(since or date(2020, 1, 1), None),
    )


@pytest.fixture
def session(world: World) -> Any:
    load_guidelines()
    made = planned_session(
        place=world.own, by=world.people.coach, staff=[world.people.coach], parts=[part_input()]
    )
    return session_by_id(made.public_id)


def adults_said(session: Any, coach: Any) -> dict[str, int]:
    """How many adults each place says that the evening needs."""
    session = session_by_id(session.public_id)
    client: Client = signed_in(coach)
    view = session_view(session)
    (short,) = [each for each in view.all_reasons if each.code == "adults_short"]
    api = client.get(reverse("api-session", args=[session.public_id])).json()
    editor = client.get(reverse("sessions:parts", args=[session.public_id]))
    sheet = session_sheet(session, link="https://example.org/")
    return {
        "session": session_page(session).view.adults_needed,
        "reason": dict(short.values)["needed"],
        "api": api["adults_needed"],
        "editor": editor.context["tally"].adults_needed,
        "sheet": int(dict(sheet.facts)["Adults"].split()[-1]),
        "set-up": evening_to_lay(session).looked_after,
        "proposal": _evening(wish_for(session), session.age_group, session).looked_after,
    }


def test_a_directors_own_ratio_is_used_wherever_adults_are_counted(world: World, session: Any) -> None:
    """Published for 11-year-olds: 1:8 and two at least (NSPCC, CPSU): 14 players need two. At 1:4 they need four."""
    coach = world.people.coach
    assert set(adults_said(session, coach).values()) == {2}
    own(Rule.CHILDREN_PER_ADULT, 4)
    assert set(adults_said(session, coach).values()) == {4}
    own(Rule.LEAST_ADULTS, 6)
    assert set(adults_said(session, coach).values()) == {6}
    page = signed_in(coach).get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert f"Adults: {OURS}; local rules come first." in page
    lines = dict(session_sheet(session_by_id(session.public_id), link="https://example.org/").safety)
    assert f"{OURS}; local rules come first" in lines.values()


def test_the_row_of_the_sessions_own_day_holds(world: World, session: Any) -> None:
    own(Rule.CHILDREN_PER_ADULT, 4, since=session.day + timedelta(days=1))
    assert session_view(session).adults_needed == 2
    session.day += timedelta(days=1)
    assert session_view(session).adults_needed == 4


def test_the_clubs_own_figure_comes_before_the_published_one_for_its_years_alone(world: World) -> None:
    load_guidelines()
    group = world.own.age_group
    own(Rule.ORGANISED_HOURS_WEEK, 14)
    own(Rule.REST_DAYS_WEEK, 3)
    assert week_limits(group, today()) == week_limits(group, today())
    assert (week_limits(group, today()).hours_most, week_limits(group, today()).rest_days_least) == (14, 3)
    group.years = 2  # U11 too, of whom the club says nothing: ten hours (NATA 2019), the stricter
    assert week_limits(group, today()).hours_most == 10


def test_every_kind_of_heading_limit_is_read(world: World) -> None:
    load_guidelines()
    limits = {
        Rule.HEADERS_PER_SESSION: 4,
        Rule.HEADERS_WEEK: 6,
        Rule.HEADING_MINUTES_WEEK: 20,
        Rule.HEADING_SESSIONS_WEEK: 1,
        Rule.HEADING_SESSIONS_MONTH: 2,
    }
    for rule, value in limits.items():
        own(rule, value)
    rule = header_rule(guidelines_for(world.own.age_group))
    assert rule is not None
    assert (rule.per_session, rule.per_week, rule.minutes_per_week) == (4, 6, 20)
    assert (rule.sessions_per_week, rule.sessions_per_month, rule.none) == (1, 2, False)
    assert rule.source == OURS


@pytest.mark.parametrize(
    ("rule", "value", "said"),
    [
        (Rule.CHILDREN_PER_ADULT, "0", "Children per adult: from 1 to 30."),
        (Rule.CHILDREN_PER_ADULT, "-8", "A figure is not below 0."),
        (Rule.CHILDREN_PER_ADULT, "500", "Children per adult: from 1 to 30."),
        (Rule.CHILDREN_PER_ADULT, "7.5", "A whole number, such as 7."),
        (Rule.LEAST_ADULTS, "0", "Adults, at least: from 1 to 10."),
        (Rule.REST_DAYS_WEEK, "8", "Rest days, a week: from 0 to 7."),
        (Rule.ORGANISED_HOURS_WEEK, "0", "Organised hours, a week: from 1 to 60."),
        (Rule.BALL_SIZE, "9", "Ball size: from 1 to 5."),
    ],
)
def test_a_figure_that_says_nothing_is_refused_beside_its_field(
    world: World, rule: Rule, value: str, said: str
) -> None:
    typed = {
        "rule": rule,
        "under_low": "12",
        "under_high": "12",
        "jurisdiction": "Club",
        "value": value,
        "source": OURS,
        "first_day": "2026-01-01",
    }
    response = signed_in(world.people.director).post(reverse("club:guideline-add"), typed)
    assert response.context["form"].errors == {"value": [said]}
    assert not Guideline.objects.exists()


@pytest.mark.parametrize("rule", list(Rule))
def test_the_database_refuses_what_says_nothing(rule: Rule) -> None:
    least, most = BOUNDS[rule]
    row: dict[str, Any] = {
        "rule": rule,
        "under_low": 12,
        "under_high": 12,
        "jurisdiction": "Club",
        "source": OURS,
        "valid": DateRange(date(2020, 1, 1), None),
    }
    for wrong in (least - 1, most + 1):
        with pytest.raises(IntegrityError, match="guideline_says_something"), transaction.atomic():
            Guideline.objects.create(**row, value=wrong)
    Guideline.objects.create(**row, value=least)
