"""The club's own clock: its date decides roles, squads, seasons and weeks, wherever the server stands."""

import ast
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import time_machine
from django.utils import timezone
from psycopg.types.range import DateRange

from club import actions, queries
from club.choices import Role
from club.models import OneTimeLink, StaffRole
from club.queries.settings import ClubZone, settings_read_once
from sessions.pages import iso_week, monday_of
from tests.factories import ClubSettingsFactory, UserFactory
from tests.people import World, signed_in

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("bibrack", "club", "drills", "sessions")

# A Sunday evening and the Monday after it, a minute on either side of the club's midnight. On the server
# (London) it is Sunday noon in the first case, Monday morning in the second.
MIDNIGHTS = [("Pacific/Auckland", "2026-11-29T11:00:00Z"), ("America/Los_Angeles", "2026-11-30T08:00:00Z")]
SUNDAY, MONDAY = date(2026, 11, 29), date(2026, 11, 30)


@pytest.mark.django_db
@pytest.mark.parametrize(("zone", "midnight"), MIDNIGHTS)
def test_a_role_begins_and_ends_at_the_clubs_midnight(zone: str, midnight: str) -> None:
    ClubSettingsFactory(time_zone=zone)
    leaving, coming = UserFactory(), UserFactory()
    StaffRole.objects.create(user=leaving, role=Role.DIRECTOR, period=DateRange(None, MONDAY))
    StaffRole.objects.create(user=coming, role=Role.DIRECTOR, period=DateRange(MONDAY, None))
    seen = []
    for shift in (-1, 0):
        with time_machine.travel(datetime.fromisoformat(midnight) + timedelta(seconds=shift), tick=False):
            directors = [queries.actor_of(each).is_director for each in (leaving, coming)]
            doors = [signed_in(each).get("/club/staff/").status_code for each in (leaving, coming)]
            seen.append((queries.today(), iso_week(monday_of(queries.today())), directors, doors))
    assert seen == [
        (SUNDAY, "2026-W48", [True, False], [200, 403]),
        (MONDAY, "2026-W49", [False, True], [403, 200]),
    ]


@pytest.mark.django_db
@pytest.mark.parametrize(("zone", "midnight"), MIDNIGHTS)
def test_a_role_given_and_ended_just_after_midnight_counts_from_that_day(zone: str, midnight: str) -> None:
    ClubSettingsFactory(time_zone=zone)
    user = UserFactory()
    with time_machine.travel(midnight, tick=False):
        role = actions.give_role(user=user, role=Role.READER)
        assert role.period.lower == MONDAY
        assert queries.actor_of(user).is_reader
        assert queries.current_season() is None


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("zone", "shown"), [("Pacific/Auckland", "30 Nov, 00:30"), ("America/Los_Angeles", "29 Nov, 03:30")]
)
def test_moments_are_shown_on_the_clubs_clock(world: World, zone: str, shown: str) -> None:
    settings = queries.club_settings()
    settings.time_zone = zone
    settings.save()
    ends = datetime(2026, 11, 29, 11, 30, tzinfo=UTC)
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False):
        actions.invite(
            email="new@ashmere.example", role=Role.READER, age_group=None, made_by_id=world.people.director.pk
        )
        OneTimeLink.objects.filter(email="new@ashmere.example").update(expires_at=ends)
        page = signed_in(world.people.director).get("/club/staff/").content.decode()
    assert f"until {shown}" in page


@pytest.mark.django_db
def test_a_moment_that_nobody_shows_costs_no_query(django_assert_num_queries: Any) -> None:
    ClubSettingsFactory(time_zone="Pacific/Auckland")
    moment = datetime(2026, 9, 26, 13, 59, 59, tzinfo=UTC)  # a second before the clocks there go forward
    with settings_read_once(), timezone.override(ClubZone()):
        with django_assert_num_queries(0):
            assert timezone.get_current_timezone() is not None
        with django_assert_num_queries(1):
            assert f"{timezone.localtime(moment):%H:%M:%S %Z}" == "01:59:59 NZST"
            assert f"{timezone.localtime(moment + timedelta(seconds=1)):%H:%M:%S %Z}" == "03:00:00 NZDT"
            assert timezone.get_current_timezone_name() == "Pacific/Auckland"
            assert timezone.make_aware(datetime(2026, 7, 1, 12)).astimezone(UTC).hour == 0


@pytest.mark.django_db
def test_the_set_up_offers_the_servers_zone(settings: Any) -> None:
    settings.TIME_ZONE = "Pacific/Auckland"
    from club.forms.club import time_zone_field

    assert time_zone_field().initial == "Pacific/Auckland"


# --- nobody reads another clock -----------------------------------------------------------------------------

SERVER_DAYS = {"today", "now", "utcnow", "fromtimestamp", "utcfromtimestamp"}
SERVER_FUNCTIONS = {
    "localdate",
    "localtime",
    "Now",
    "ctime",
    "TruncDate",
    "TruncDay",
    "TruncWeek",
    "ExtractWeek",
}
IN_SQL = re.compile(
    r"\bcurrent_date\b|\bcurrent_time\b|\blocaltime(stamp)?\b|\bdate_trunc\b|\bto_char\b"
    r"|(\bnow\(\)|\bcurrent_timestamp)\s*::\s*date\b|\bage\(now\(",
    re.IGNORECASE,
)
IN_TEMPLATES = re.compile(r"{%\s*now\b|\|\s*(localtime|utc|timezone)\b|{%\s*(localtime|timezone)\b")


def other_clocks(source: str) -> Iterator[str]:
    """Each place where a day, or a time of day, is read from a clock other than the club's."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(func=ast.Attribute(value=ast.Name(id="date" | "datetime"), attr=name)) if (
                name in SERVER_DAYS
            ):
                yield f"{node.lineno}: {name}"
            case ast.Call(func=ast.Attribute(attr=name)) | ast.Call(func=ast.Name(id=name)) if (
                name in SERVER_FUNCTIONS
            ):
                yield f"{node.lineno}: {name}"
            case ast.Call(
                func=ast.Attribute(value=ast.Call(func=ast.Attribute(attr="now")), attr="date" | "time")
            ):
                yield f"{node.lineno}: the day of now()"
            case ast.Call(func=ast.Attribute(attr="DateField" | "TimeField"), keywords=given) if any(
                each.arg in ("auto_now", "auto_now_add", "default", "db_default") for each in given
            ):
                yield f"{node.lineno}: a default for a day"
            case ast.keyword(arg=str(name)) if re.search(r"__(date|time|week|year|iso_year)$", name):
                yield f"{node.lineno}: {name}"
            case ast.Constant(value=str(text)) if IN_SQL.search(text):
                yield f"{node.lineno}: {text[:40]}"


@pytest.mark.parametrize(
    "line",
    [
        "date.today()",
        "datetime.now()",
        "timezone.localdate()",
        "timezone.now().date()",
        "rows.filter(at__date=day)",
        "cursor.execute('SELECT 1 WHERE period @> CURRENT_DATE')",
        "cursor.execute('SELECT now()::date')",
        "models.DateField(auto_now_add=True)",
        "models.DateField(default=day)",
        "TruncDate('at')",
    ],
)
def test_the_watch_sees_another_clock(line: str) -> None:
    assert len(list(other_clocks(line))) == 1


@pytest.mark.parametrize(
    "line", ["club.today()", "timezone.now()", "club_now().date", "models.DateField(null=True)"]
)
def test_the_watch_lets_the_clubs_clock_and_plain_moments_pass(line: str) -> None:
    assert list(other_clocks(line)) == []


def test_no_day_is_read_from_another_clock() -> None:
    found = {
        f"{path.relative_to(ROOT)}:{each}"
        for room in ROOMS
        for path in (ROOT / room).rglob("*.py")
        for each in other_clocks(path.read_text(encoding="utf-8"))
    }
    assert found == set()


def test_no_template_asks_another_clock() -> None:
    pages = [path for path in (ROOT / "templates").rglob("*.html") if IN_TEMPLATES.search(path.read_text())]
    assert pages == []
