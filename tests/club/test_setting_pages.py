"""Settings, seasons, age groups, themes and published figures on pages."""

from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from club import actions, queries
from club.choices import Rule
from club.errors import Refused
from club.forms import AgeGroupForm, GuidelineForm
from club.models import AgeGroup, Guideline
from tests.factories import (
    AgeGroupFactory,
    GuidelineFactory,
    SeasonFactory,
    ThemeFactory,
)
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db


def text(response: Any) -> str:
    found: str = response.content.decode()
    return found


# Settings, seasons, age groups -----------------------------------------------------------------------------

ELEVENS = {"match_format": "11v11", "session_minutes": "90", "hardest_part": "8"}
SETTINGS = {
    "version": "1",
    "name": "Ashmere United",
    "time_zone": "Europe/Dublin",
    "units": "yd",
    "pace_m": "0.85",
    "changeover_s": "90",
    "heat_guideline": "us_soccer_3",
    "clear_minutes": "4",
    "emergency_number": "999",
    "welfare_phone": "",
    "ages_on_day": "31",
    "ages_on_month": "12",
}


def test_settings_are_saved_and_hold_at_once(world: World) -> None:
    response = signed_in(world.people.administrator).post("/club/settings/", SETTINGS, follow=True)
    saved = queries.club_settings()
    assert (saved.name, saved.units, str(saved.pace_m), saved.version) == ("Ashmere United", "yd", "0.85", 2)
    assert "<h1>Ashmere United</h1>" in text(response)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("pace_m", "9"),
        ("pace_m", "a stride"),
        ("name", " "),
        ("time_zone", "Moon/Crater"),
        ("clear_minutes", "-1"),
        ("units", "cubits"),
        ("heat_guideline", "the sun"),
        ("ages_on_day", "32"),
        ("ages_on_month", "13"),
    ],
)
def test_a_wrong_setting_is_kept_beside_its_reason(world: World, field: str, value: str) -> None:
    response = signed_in(world.people.director).post("/club/settings/", SETTINGS | {field: value})
    form = response.context["form"]
    assert list(form.errors) == [field]
    assert form[field].value() == value
    assert queries.club_settings().version == 1


@pytest.mark.parametrize(("day", "month"), [("30", "2"), ("29", "2"), ("31", "4")])
def test_the_reference_date_is_a_day_of_every_year(world: World, day: str, month: str) -> None:
    wrong = SETTINGS | {"ages_on_day": day, "ages_on_month": month}
    form = signed_in(world.people.director).post("/club/settings/", wrong).context["form"]
    assert form.errors == {"ages_on_day": ["This month has no such day."]}
    with pytest.raises(Refused):
        actions.save_settings(version=1, ages_on_day=int(day), ages_on_month=int(month))


def test_ages_are_explained_by_the_associations_own_date(world: World) -> None:
    page = reverse("club:age-group", args=[world.own.age_group.public_id])
    client = signed_in(world.people.director)
    assert "under 12 at midnight on 31 August; the oldest turn 12 in the season." in text(client.get(page))
    client.post("/club/settings/", SETTINGS)
    said = text(client.get(page))
    assert "under 12 at midnight on 31 December" in said
    assert "Supervision goes by age 11" in said
    assert "31 December" in text(client.get("/club/"))


def test_an_age_group_is_added_at_the_end_of_its_season(world: World) -> None:
    address = reverse("club:age-group-add", args=[world.season.public_id])
    typed = ELEVENS | {"label": "U18", "under": "18", "years": "2"}
    client = signed_in(world.people.director)
    response = client.post(address, typed)
    made = AgeGroup.objects.get(label="U18")
    assert response.url == reverse("club:age-group", args=[made.public_id])
    again = client.post(address, typed)
    assert "The season has an age group with this name already." in text(again)
    assert AgeGroup.objects.filter(label="U18").count() == 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("match_format", "9v8"),
        ("match_format", "four against four"),
        ("match_format", "40v40"),
        ("under", "1"),
        ("under", "twelve"),
        ("years", "0"),
        ("years", "13"),
        ("over", "18"),
        ("session_minutes", "0"),
        ("match_length_m", "0"),
        ("hardest_part", "11"),
        ("label", ""),
    ],
)
def test_impossible_age_groups_are_refused_at_the_field(field: str, value: str) -> None:
    typed = {
        "label": "U12",
        "under": "12",
        "years": "1",
        "match_format": "9v9",
        "session_minutes": "75",
        "hardest_part": "8",
    }
    assert AgeGroupForm(typed).is_valid()
    assert list(AgeGroupForm(typed | {field: value}).errors) == [field]


@pytest.mark.parametrize(
    ("ages", "field"),
    [
        ({}, "under"),
        ({"over": "14"}, "over"),
        ({"over": "18", "years": "2"}, "years"),
        ({"under": "100"}, "under"),
    ],
)
def test_ages_that_say_too_little_or_too_much_are_refused_at_the_field(ages: dict, field: str) -> None:
    typed = ELEVENS | {"label": "Open"}
    assert list(AgeGroupForm(typed | ages).errors) == [field]
    assert AgeGroupForm(typed | {"over": "18"}).is_valid()


def test_adults_are_saved_without_an_upper_age(world: World) -> None:
    address = reverse("club:age-group-add", args=[world.season.public_id])
    typed = ELEVENS | {"label": "Veterans", "over": "35"}
    page = signed_in(world.people.director).post(address, typed, follow=True)
    made = AgeGroup.objects.get(label="Veterans")
    assert (made.under, made.years, made.over, made.ages.words) == (None, 1, 35, "35 and over")
    assert "adults, 35 or older at midnight on 31 August." in text(page)


@pytest.mark.parametrize(
    "values", [{"under": 3, "years": 4}, {"under": 3, "over": 18}, {"under": None, "years": 2}, {"years": 0}]
)
def test_the_database_holds_what_an_age_group_is(values: dict) -> None:
    group = AgeGroupFactory()
    with pytest.raises(IntegrityError, match="age_group_under_or_adults"):
        AgeGroup.objects.filter(pk=group.pk).update(**values)


def test_what_follows_from_the_ages_stands_beside_the_form(world: World) -> None:
    """The FA, heading 2020: a group that holds U11 heads nothing; NSPCC, CPSU: 9 to 12 years 1:8."""
    actions.load_guidelines()
    address = reverse("club:age-group-add", args=[world.season.public_id])
    client = signed_in(world.people.director)
    asked = text(client.get(address + "?under=12&years=2&match_format=9v9"))
    assert 'name="under" value="12"' in asked
    typed = {"label": "", "under": "12", "years": "2", "match_format": "9v9"}
    for said in (asked, text(client.post(address, typed))):
        assert "U11–U12:" in said
        assert "Headers per player, a session: 0" in said
        assert "Supervision goes by age 10" in said
        assert "Match pitch, length in metres: 73.15" in said
    assert "midnight" not in text(client.get(address))
    assert "midnight" not in text(client.post(address, typed | {"years": "13"}))


def test_published_figures_stand_beside_the_clubs_own_and_say_where_they_differ() -> None:
    """The FA, heading guidance 2020 (under-12: one session a month, 5 headers) and ball sizes from June 2020 (U11–U14: 4)."""
    actions.load_guidelines()
    season = SeasonFactory()
    group = AgeGroupFactory(season=season, under=12, ball_size=5, week_minutes=200, week_days=3)
    figures = {each.rule: each for each in queries.figures_beside(group)}
    assert int(figures[Rule.HEADERS_PER_SESSION].published) == 5
    assert int(figures[Rule.HEADING_SESSIONS_MONTH].published) == 1
    ball = figures[Rule.BALL_SIZE]
    assert (int(ball.published), ball.ours, ball.differs) == (4, 5, True)
    assert not figures[Rule.REST_DAYS_WEEK].differs
    assert not figures[Rule.ORGANISED_HOURS_WEEK].differs


@pytest.mark.parametrize(("year", "a_side"), [(2025, 9), (2026, 7)])
def test_the_published_match_format_is_that_of_the_season(year: int, a_side: int) -> None:
    """The FA, formats: under-11 played 9v9 up to 2025-26 and plays 7v7 from 2026-27."""
    actions.load_guidelines()
    season = SeasonFactory(period=_season(year))
    group = AgeGroupFactory(season=season, under=11, match_format="9v9")
    (figure,) = [each for each in queries.figures_beside(group) if each.rule == Rule.PLAYERS_A_SIDE]
    assert (int(figure.published), figure.differs) == (a_side, a_side != 9)


def _season(year: int) -> Any:
    from datetime import date

    from tests.factories import season_around

    return season_around(date(year, 9, 1))


# Themes and guidelines -------------------------------------------------------------------------------------


def test_a_theme_keeps_its_key_when_it_is_renamed(world: World) -> None:
    theme = ThemeFactory(key="switch-play", title="Switch")
    address = reverse("club:theme-change", args=[theme.public_id])
    signed_in(world.people.director).post(address, {"title": "Switch the play", "moment": "winning it"})
    theme.refresh_from_db()
    assert (theme.key, theme.title, theme.moment) == ("switch-play", "Switch the play", "winning it")


def test_a_figure_changed_by_the_club_says_so(world: World) -> None:
    row = GuidelineFactory(value=4)
    address = reverse("club:guideline-change", args=[row.public_id])
    typed = {"version": "1", "value": "5", "source": row.source, "first_day": "2020-01-01"}
    client = signed_in(world.people.director)
    assert "Say where the new figure comes from" in text(client.post(address, typed))
    client.post(address, typed | {"source": "Our own committee, 2026"})
    row.refresh_from_db()
    assert (row.value, row.source, row.own) == (5, "Our own committee, 2026", True)
    assert "changed by the club" in text(client.get("/club/guidelines/"))


def test_a_second_figure_for_the_same_time_is_refused(world: World) -> None:
    GuidelineFactory(rule=Rule.BALL_SIZE, under_low=8, under_high=10, jurisdiction="Club")
    typed = {
        "rule": Rule.BALL_SIZE,
        "under_low": "9",
        "under_high": "9",
        "jurisdiction": "Club",
        "value": "3",
        "source": "Us",
        "first_day": "2026-01-01",
    }
    response = signed_in(world.people.director).post("/club/guidelines/add/", typed)
    assert response.status_code == 200
    assert response.context["form"].non_field_errors() == [
        "There is a figure for U8–U10 at that time already: 4.00. Change that one."
    ]
    assert Guideline.objects.count() == 1


@pytest.mark.parametrize(
    ("rule", "a_side", "wrong"),
    [
        (Rule.BALL_SIZE, "5", "Only sizes of pitches say this."),
        (Rule.MATCH_LENGTH_M, "", "For how many a side is it?"),
    ],
)
def test_a_size_of_a_pitch_says_for_how_many_a_side(rule: Rule, a_side: str, wrong: str) -> None:
    typed = {
        "rule": rule,
        "under_low": "4",
        "under_high": "99",
        "a_side": a_side,
        "jurisdiction": "Club",
        "value": "30",
        "source": "Us",
        "first_day": "2026-01-01",
    }
    assert GuidelineForm(typed).errors == {"a_side": [wrong]}


def test_two_formats_have_their_own_pitch_at_the_same_time(world: World) -> None:
    size = {"rule": Rule.MATCH_LENGTH_M, "under_low": 4, "under_high": 99, "jurisdiction": "Club"}
    GuidelineFactory(**size, a_side=5, value=40)
    row = GuidelineFactory(**size, a_side=7, value=50)
    with pytest.raises(IntegrityError, match="guideline_once_at_a_time"), transaction.atomic():
        GuidelineFactory(**size, a_side=7, value=50)
    rows = text(signed_in(world.people.reader).get("/club/guidelines/"))
    assert "5 a side" in rows
    assert str(row.ages_words) == "7 a side"
    assert (
        str(GuidelineFactory(**size | {"under_low": 13, "value": 90}, a_side=11).ages_words)
        == "11 a side, U13 and older"
    )


def test_a_figure_cannot_end_before_it_begins() -> None:
    form = GuidelineForm({"last_day": "2026-01-01", "first_day": "2026-01-01"})
    assert "It ends before it begins." in str(form.errors["last_day"])


def test_every_figure_is_given_as_advice(world: World) -> None:
    for address in ("/club/guidelines/", reverse("club:age-group", args=[world.own.age_group.public_id])):
        assert "come first." in text(signed_in(world.people.reader).get(address))
