"""A team's week: football first, one value of a session wherever it is shown, changes that are done in one tap."""

from datetime import date, time, timedelta
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from django.urls import reverse

from club import actions as club_actions
from club.models import ClubSettings
from club.queries import actor_of, club_settings, today
from sessions import actions, pages, queries
from sessions.choices import Kind, State, WhyCancelled
from sessions.models import LedgerEntry, TrainingSession
from sessions.pages.squad_week import DayShown
from sessions.queries.squad_context import week_so_far
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, weekly_slot
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of


def text_of(response: Any) -> str:
    return " ".join(response.content.decode().split())


def main_of(response: Any) -> str:
    return text_of(response).partition("<main")[2]


def squad_of(world: World) -> Any:
    from club.queries import squad

    return squad(world.own.squad.public_id)


def week_url(world: World, name: str = "squad", **more: Any) -> str:
    return reverse(f"sessions:{name}", kwargs={"public_id": world.own.squad.public_id, **more})


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


@pytest.fixture
def evening(world: World) -> Any:
    """60 min in six rounds at CR10 5: 300 AU planned."""
    part = part_input(minutes=60, bouts=6, bout_s=600, rest_s=0, changeover_s=0)
    zone = ZoneFactory(pitch__name="Long Meadow", name="North")
    return planned_session(
        place=world.own, by=world.people.coach, title="Finishing", staff=[world.people.coach], zones=[zone], parts=[part]
    )  # fmt: skip


def entered(
    world: World, day: date, kind: Kind = Kind.TOURNAMENT, minutes: int = 150, effort: float = 6
) -> Any:
    return actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=day,
        kind=kind,
        title="Autumn Cup",
        minutes=minutes,
        effort=effort,
        entered_by_id=world.people.coach.pk,
    )


def rate_earlier(world: World, days: list[tuple[int, float]]) -> None:
    """Rated sessions of other days, so that the team has a factor of its own."""
    for days_ago, au in days:
        made = planned_session(
            place=world.own,
            by=world.people.coach,
            day=today() - timedelta(days=days_ago),
            parts=[part_input()],
        )
        LedgerEntry.objects.create(
            squad=world.own.squad,
            session=made,
            day=made.day,
            kind="training",
            minutes=20,
            load_au=au,
            as_run_au=92,
        )


# One value -------------------------------------------------------------------------------------------------


def asked_everywhere(world: World, session: Any) -> dict[str, float]:
    """What each place says that a session counts for, in AU."""
    fresh = queries.session_by_id(session.public_id)
    monday = pages.monday_of(fresh.day)
    director, iso = actor_of(world.people.director), pages.iso_week(monday)
    page = pages.squad_week_page(director, squad_of(world), monday)
    shown = [
        each for row in pages.weeks_page(director, monday).rows for cell in row.cells for each in cell.loads
    ]
    client = client_of(world.people.director)
    api = client.get(f"/api/v1/age-groups/{world.own.age_group.public_id}/weeks/{iso}/").json()["squads"][0]
    key = str(fresh.public_id)
    found = {
        "session": queries.session_view(fresh).counts.load_au,
        "session over the API": client.get(f"/api/v1/sessions/{key}/").json()["counts_au"],
        "tile": pages.tiles([fresh])[0].expected_au or 0,
        "week": next(each.load_au for each in page.week.lines if each.session_id == key),
        "list of weeks": next(
            line.load_au for _, week in shown for line in week.lines if line.session_id == key
        ),
        "week over the API": next(each["load_au"] for each in api["lines"] if each["session"] == key),
    }
    others = page.week.total_au - found["week"]
    assert week_so_far(fresh).load_au == pytest.approx(others)  # what a proposal takes as spent
    return found


def test_page_week_list_and_api_count_a_session_alike(world: World, evening: Any) -> None:
    found = asked_everywhere(world, evening)
    assert set(found.values()) == {300.0}


def test_the_teams_own_factor_is_the_same_everywhere(world: World, evening: Any) -> None:
    # 92 AU were planned each time; two of them lie in this very week, which the week's page once left out
    rate_earlier(world, [(20, 110.4), (13, 110.4), (6, 138), (1, 138), (2, 138)])
    found = asked_everywhere(world, evening)
    assert {round(each, 1) for each in found.values()} == {450.0}  # 300 × 1.5
    text = main_of(signed_in(world.people.coach).get(reverse("sessions:session", args=[evening.public_id])))
    assert "450 of 340 AU, 110 over" in text


def test_a_recorded_session_counts_as_it_was_recorded_everywhere(world: World, evening: Any) -> None:
    session = TrainingSession.objects.get(pk=evening.pk)
    session.state = State.DELIVERED
    session.save()
    LedgerEntry.objects.create(
        squad=world.own.squad, session=session, day=session.day, kind="training", minutes=60, load_au=450
    )
    found = asked_everywhere(world, evening)
    assert set(found.values()) == {450.0}
    text = main_of(signed_in(world.people.coach).get(reverse("sessions:session", args=[evening.public_id])))
    assert "450 of 340 AU, 110 over" in text  # not what the plan would have left


def test_a_session_that_is_off_counts_nowhere(world: World, evening: Any) -> None:
    actions.cancel_session(session=evening, version=evening.version, why=WhyCancelled.WEATHER)
    fresh = queries.session_by_id(evening.public_id)
    assert queries.counted(fresh).load_au == 0
    assert (
        pages.squad_week_page(
            actor_of(world.people.coach), squad_of(world), pages.monday_of(today())
        ).week.lines
        == []
    )


# Football first --------------------------------------------------------------------------------------------


def test_a_week_says_what_who_when_and_what_is_next(world: World, coach: Any, evening: Any) -> None:
    weekly_slot(place=world.own, weekday=7, starts=time(10), ends=time(11))
    text = main_of(coach.get(week_url(world)))
    assert "18:00–19:15" in text
    assert "Finishing" in text
    assert "<bdi>Carl Coach</bdi> · Long Meadow: North" in text
    assert '<span class="chip">next</span>' in text
    assert "empty slot: plan it" in text
    assert "Football days" in text
    assert text.index("Finishing") < text.index("Football days") < text.index("Figures of load")
    before_the_fold = text.partition("Figures of load")[0]
    assert " AU" not in before_the_fold


def test_the_youngest_hear_nothing_of_load(world: World, evening: Any) -> None:
    group = world.own.age_group
    group.under, group.week_minutes = 10, 60
    group.save()  # it still has a budget in AU from before
    iso = pages.iso_week(pages.monday_of(today()))
    director = signed_in(world.people.director)
    pages_of = [
        week_url(world),
        reverse("sessions:week"),
        reverse("sessions:session", args=[evening.public_id]),
    ]
    for address in pages_of:
        assert " AU" not in main_of(director.get(address))
    squad = (
        client_of(world.people.director)
        .get(f"/api/v1/age-groups/{group.public_id}/weeks/{iso}/")
        .json()["squads"][0]
    )
    assert (squad["total_au"], squad["budget_au"], squad["detail"], squad["lighter"]) == (
        None,
        None,
        None,
        [],
    )
    assert squad["told"] == "Heavy week: 75 min, 15 more than the 60 min this age group plans."
    one = client_of(world.people.director).get(f"/api/v1/sessions/{evening.public_id}/").json()
    assert (one["planned_au"], one["counts_au"], one["parts"][0]["load_au"]) == (None, None, None)


def test_only_the_director_sees_monotony(world: World, evening: Any) -> None:
    entered(world, today() - timedelta(days=30))
    entered(world, today())
    assert "Monotony" not in main_of(signed_in(world.people.coach).get(week_url(world)))
    assert "Monotony" in main_of(signed_in(world.people.director).get(week_url(world)))


# Daylight --------------------------------------------------------------------------------------------------


@pytest.fixture
def somewhere(world: World) -> ClubSettings:
    row = club_settings()
    return club_actions.save_settings(
        version=row.version, latitude=Decimal("52.60"), longitude=Decimal("-1.30")
    )


def in_the_evening(world: World, **zone: Any) -> Any:
    """A session that ends long after any dusk of the middle of England."""
    made = ZoneFactory(pitch__name="Long Meadow", **zone)
    late = {"starts": time(22, 45), "ends": time(23, 45)}
    return planned_session(place=world.own, by=world.people.coach, zones=[made], parts=[part_input()], **late)


def test_a_session_in_the_dark_is_told_so_on_its_page_and_over_the_api(
    world: World, somewhere: ClubSettings, coach: Any
) -> None:
    session = in_the_evening(world)
    words = "and Long Meadow has no lights: "
    assert words in main_of(coach.get(reverse("sessions:session", args=[session.public_id])))
    assert words in main_of(coach.get(reverse("sessions:parts", args=[session.public_id])))
    assert words in main_of(coach.get(reverse("sessions:propose", args=[session.public_id])))
    found = client_of(world.people.coach).get(f"/api/v1/sessions/{session.public_id}/").json()
    assert any(words in each["text"] for each in found["reasons"])


@pytest.mark.parametrize("zone", [{"pitch__has_lights": True}, {"pitch__surface": "hall"}])
def test_lights_and_roofs_are_no_matter(world: World, somewhere: ClubSettings, zone: dict[str, Any]) -> None:
    assert queries.in_the_dark(in_the_evening(world, **zone)) == []


def test_a_club_that_says_no_place_hears_nothing(world: World) -> None:
    assert queries.in_the_dark(in_the_evening(world)) == []


def test_a_weekly_slot_says_from_when_on_it_is_dark(world: World, somewhere: ClubSettings) -> None:
    zone = ZoneFactory(pitch__name="Long Meadow")
    slot = weekly_slot(place=world.own, zones=[zone], starts=time(22, 45), ends=time(23, 45))
    found = queries.dark_from(slot, today())
    assert found is not None
    assert found[0] == today()
    text = main_of(signed_in(world.people.director).get(reverse("sessions:slots")))
    assert "and Long Meadow has no lights: " in text


def test_a_place_is_both_figures_or_none(world: World) -> None:
    director = signed_in(world.people.administrator)
    page = director.get("/club/settings/")
    given = {
        name: field.value()
        for name, field in ((f.name, f) for f in page.context["form"])
        if field.value() is not None
    }
    assert director.post("/club/settings/", {**given, "latitude": "52.6"}).status_code == 200
    assert club_settings().latitude is None
    director.post("/club/settings/", {**given, "latitude": "52.6", "longitude": "-1.3"})
    assert (club_settings().latitude, club_settings().longitude) == (Decimal("52.60"), Decimal("-1.30"))


def test_a_day_with_any_football_is_no_day_of_rest() -> None:
    match, other = SimpleNamespace(is_football=True), SimpleNamespace(is_football=False)
    rest = DayShown.is_rest.fget
    assert rest is not None
    said = [rest(SimpleNamespace(things=things)) for things in ([], [other], [other, match], [match])]
    assert said == [True, True, False, False]
