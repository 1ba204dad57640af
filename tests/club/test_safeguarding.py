"""Dates of staff, and players who are out until a coach of theirs lifts it."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from club import actions, pages, queries
from club.errors import Refused, Stale
from club.models import AccessLog, PlayerOut, StaffChecks
from club.queries.vetting import SOON_DAYS, why_not_counted
from tests.club.looking import found_in_tables
from tests.factories import PitchFactory, UserFactory
from tests.people import World

DAY = date(2026, 11, 30)


@given(st.booleans(), st.none() | st.dates(), st.dates())
def test_who_counts_is_of_age_with_vetting_that_holds_that_day(
    of_age: bool, until: date | None, day: date
) -> None:
    """The rule itself is common practice in safeguarding; the club's and the association's own come first."""
    why = why_not_counted(of_age=of_age, vetting_until=until, day=day)
    assert (why is None) == (of_age and until is not None and until >= day)


@pytest.mark.parametrize(
    ("of_age", "until", "why"),
    [
        (True, DAY, None),  # the last day still holds
        (True, DAY - timedelta(days=1), "vetting_over"),
        (True, None, "no_vetting"),
        (False, DAY + timedelta(days=300), "under_18"),
    ],
)
def test_each_reason_not_to_count(of_age: bool, until: date | None, why: str | None) -> None:
    assert why_not_counted(of_age=of_age, vetting_until=until, day=DAY) == why


def dates(user: Any, version: int = 0, **given: Any) -> StaffChecks:
    every = dict.fromkeys(("vetting_until", "safeguarding_until", "first_aid_until"))
    return actions.save_checks(user=user, version=version, **{"of_age": True, **every, **given})


@pytest.mark.django_db
def test_two_directors_never_write_over_each_others_dates() -> None:
    user = UserFactory(vetted=False)
    assert dates(user, vetting_until=DAY).version == 1
    with pytest.raises(Stale):
        dates(user, first_aid_until=DAY)  # began with none as well
    assert StaffChecks.objects.get(user=user).vetting_until == DAY
    assert dates(user, version=1, vetting_until=DAY + timedelta(days=1)).version == 2


@pytest.mark.django_db
def test_dates_go_with_the_account() -> None:
    user = UserFactory(vetted=False)
    dates(user, vetting_until=DAY)
    actions.close_account(user=user)
    assert not StaffChecks.objects.filter(user=user).exists()


@pytest.mark.django_db
def test_dates_that_run_out_within_sixty_days_are_told_soonest_first(world: World) -> None:
    StaffChecks.objects.all().delete()
    today, people = queries.today(), world.people
    dates(people.coach, vetting_until=today + timedelta(days=SOON_DAYS))
    dates(
        people.helper,
        vetting_until=today + timedelta(days=SOON_DAYS + 1),
        first_aid_until=today - timedelta(days=1),
    )
    dates(people.colleague, vetting_until=today + timedelta(days=400))
    dates(people.director, vetting_until=today + timedelta(days=400), safeguarding_until=today)
    found = queries.running_out(queries.staff_with_checks())
    assert [(each.user.name, each.check, each.is_over) for each in found] == [
        ("Hedy Helper", "first_aid_until", True),
        ("Dora Director", "safeguarding_until", False),
        ("Carl Coach", "vetting_until", False),
    ]
    StaffChecks.objects.filter(user=people.colleague).delete()
    alone = [(each.user.name, each.check) for each in queries.running_out(queries.working_with_checks())]
    assert alone == [
        (each.user.name, each.check) for each in queries.running_out(queries.staff_with_checks())
    ]
    told = pages.date_needs(queries.running_out(queries.staff_with_checks()))
    assert told[0].about == "Cleo Colleague"
    assert (
        told[0].text == "no date for vetting yet: doesn't count as an adult."
    )  # a reader's is not asked for
    assert [each.about for each in told].count("Rolf Reader") == 0


@pytest.mark.django_db
def test_the_director_sees_on_today_and_staff_what_can_be_mended(client: Any, world: World) -> None:
    StaffChecks.objects.filter(user=world.people.coach).update(vetting_until=queries.today())
    PitchFactory(name="Back Field", address="1 Lane", ambulance_gate="", defibrillator="")
    client.force_login(world.people.director)
    home, staff = client.get("/").content.decode(), client.get("/club/staff/").content.decode()
    for page in (home, staff):
        assert f"/club/staff/{world.people.coach.public_id}/dates/" in page
        assert "vetting runs out on" in page
    assert "no gate for an ambulance or nearest defibrillator yet, for an emergency." in home
    assert "no number of the welfare officer yet" in home
    client.force_login(world.people.coach)
    assert "runs out" not in client.get("/").content.decode()
    assert "18 or over" not in client.get("/club/staff/").content.decode()


@pytest.mark.django_db
def test_the_form_saves_dates_and_nothing_else(client: Any, world: World) -> None:
    client.force_login(world.people.director)
    url = f"/club/staff/{world.people.helper.public_id}/dates/"
    typed = {"version": "1", "of_age": "on", "vetting_until": "2027-05-01", "first_aid_until": ""}
    assert client.post(url, typed).status_code == 302
    row = StaffChecks.objects.get(user=world.people.helper)
    assert (row.of_age, row.vetting_until, row.first_aid_until) == (True, date(2027, 5, 1), None)
    assert client.post(url, {**typed, "version": "2", "vetting_until": "31.2.2027"}).status_code == 200


@pytest.mark.django_db
@pytest.mark.parametrize("number", ["999", "112", "+44 20 7946 0018", "(01632) 960 144"])
def test_numbers_that_can_be_rung(number: str) -> None:
    saved = actions.save_settings(version=1, name="Ashmere", welfare_phone=number)
    assert saved.welfare_phone == number


@pytest.mark.django_db
@pytest.mark.parametrize("number", ["Ann 01632 960144", "ask at the bar", "+", "tel:999", "1" * 21])
def test_a_number_alone_no_name_beside_it(number: str) -> None:
    with pytest.raises(Refused) as error:
        actions.save_settings(version=1, name="Ashmere", welfare_phone=number)
    assert set(error.value.by_field()) == {"welfare_phone"}


# Out until lifted --------------------------------------------------------------------------------------------


@pytest.mark.django_db
def test_out_is_one_row_that_says_who_and_when_and_no_why(world: World) -> None:
    player, people = world.own.player, world.people
    assert actions.set_out(player=player, by_id=people.helper.pk)
    assert actions.set_out(player=player, by_id=people.coach.pk) is None
    assert [each.is_out for each in queries.players_of([world.own.squad.pk])] == [True]
    lifted = actions.lift_out(player=player, by_id=people.coach.pk)
    assert (lifted.set_by, lifted.lifted_by) == (people.helper, people.coach)
    assert lifted.since <= lifted.lifted_at
    names = {field.name for field in PlayerOut._meta.get_fields()}
    assert names == {"id", "public_id", "player", "since", "set_by", "lifted_at", "lifted_by"}
    assert [each.is_out for each in queries.players_of([world.own.squad.pk])] == [False]
    with pytest.raises(Refused):
        actions.lift_out(player=player, by_id=people.coach.pk)


@pytest.mark.django_db
def test_the_same_knock_heard_of_late_adds_nothing_and_another_one_does(world: World) -> None:
    player, now = world.own.player, timezone.now()
    actions.set_out(player=player, by_id=None, since=now - timedelta(hours=3))
    actions.lift_out(player=player, by_id=None)
    assert actions.set_out(player=player, by_id=None, since=now - timedelta(hours=2)) is None
    before = actions.set_out(player=player, by_id=None, since=now - timedelta(hours=4))
    assert before is not None


@pytest.mark.django_db
def test_a_time_to_come_counts_as_now(world: World) -> None:
    row = actions.set_out(player=world.own.player, by_id=None, since=timezone.now() + timedelta(days=2))
    assert row is not None
    assert row.since <= timezone.now()


@pytest.mark.django_db
def test_it_goes_with_the_player_and_after_half_a_year(world: World) -> None:
    actions.set_out(player=world.own.player, by_id=None)
    actions.erase_player(player=world.own.player)
    assert found_in_tables(str(world.own.player.display_name)) == []
    assert not PlayerOut.objects.exists()
    actions.set_out(player=world.foreign.player, by_id=None)
    actions.lift_out(player=world.foreign.player, by_id=None)
    PlayerOut.objects.update(lifted_at=timezone.now() - timedelta(days=181))
    actions.prune()
    assert not PlayerOut.objects.exists()


@pytest.mark.django_db
def test_the_api_sets_tells_and_lifts_and_the_read_is_noted(client: Any, world: World) -> None:
    url = reverse("api-player-out", args=[world.own.player.public_id])
    client.force_login(world.people.helper)
    assert client.post(url).json()["set_by"] == "Hedy Helper"
    assert client.delete(url).status_code == 403  # sets, and does not lift
    assert AccessLog.objects.filter(user=world.people.helper, squad=world.own.squad).exists()
    listed = client.get(reverse("api-players", args=[world.own.squad.public_id])).json()["results"]
    assert [each["out_until_lifted"] for each in listed] == [True]
    client.force_login(world.people.coach)
    assert client.delete(url).json()["out_until_lifted"] is False
    assert client.delete(url).status_code in (400, 409, 422)


@pytest.mark.django_db
def test_a_coach_of_any_team_of_theirs_lifts_it(world: World) -> None:
    from django.db.backends.postgresql.psycopg_any import DateRange

    from club.access import player_to_lift
    from club.models import PlayerSquad

    PlayerSquad.objects.create(
        player=world.own.player, squad=world.colleague.squad, period=DateRange(queries.today(), None)
    )
    found = player_to_lift(queries.actor_of(world.people.colleague), world.own.player.public_id)
    assert found == world.own.player


@pytest.mark.django_db
def test_the_players_page_says_what_is_advised_with_its_source(client: Any, world: World) -> None:
    client.force_login(world.people.coach)
    page = client.get(f"/squads/players/{world.own.player.public_id}/").content.decode()
    for words in ("sit them out", "April 2023", "accident form", "Advice, not a diagnosis"):
        assert words in page
    client.post(f"/squads/players/{world.own.player.public_id}/out/")
    assert "out until lifted" in client.get(f"/squads/{world.own.squad.public_id}/").content.decode()
    page = client.get(f"/squads/players/{world.own.player.public_id}/").content.decode()
    assert "set by <bdi>Carl Coach</bdi>" in page


def test_the_advice_holds_what_was_published() -> None:
    """UK Government with the Sport and Recreation Alliance, "If in doubt, sit them out", April 2023, updated November 2024
    (read second-hand): off at once and not back that day, seen by somebody medical or NHS 111 within 24 hours, rest for 24
    to 48 hours, education before sport, no competition before day 21, a doctor where it lasts beyond 28 days. Red flags as
    the NSPCC's Child Protection in Sport Unit sums them up (2023): unconscious, drowsy, memory, seizure, headache, neck, sick.
    """
    advice = pages.after_a_knock("112")
    said = " ".join(advice.lines)
    for figure in (
        "not back today",
        "24 hours",
        "NHS 111",
        "a day or two",
        "school first",
        "day 21",
        "28 days",
    ):
        assert figure in said
    for flag in ("112", "passed out", "fit", "sick", "remember", "drowsier", "headache", "neck"):
        assert flag in advice.urgent
    assert "doctor" in advice.defers
