"""Adults who count, players who are out, an emergency's block: one value each, asked at every place that shows it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.urls import reverse
from django.utils import timezone

from club import actions as club_actions
from club import queries as club
from club.actions.guidelines import load_guidelines
from club.api_described import plain
from club.models import ClubSettings, PlayerOut, StaffChecks
from sessions import queries
from sessions.actions import StationInput
from sessions.api.happened import emergency
from sessions.models import TrainingSession
from sessions.pages.editor import tally
from sessions.pages.emergency import emergency_of
from sessions.pages.pitch import page_data, pitch_page
from sessions.pages.session import session_page
from sessions.pages.sheet.session import session_sheet
from sessions.proposals.queries.tonight import wish_for
from sessions.queries.adults import adults_of
from sessions.queries.evening import evening_of
from sessions.queries.laying import evening_to_lay, laid_out
from sessions.queries.pitch import guests_for, happened, players_for
from sessions.queries.plan import session_view
from sessions.queries.station import to_lay
from sessions.sheet import SIZES, pdf
from tests.factories import PitchFactory, UserFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session
from tests.people import World
from tests.sessions.setting_up import again, drill, planned, record

pytestmark = pytest.mark.django_db


def down(world: World, **changes: Any) -> Any:
    """A session tonight with the coach, a helper and somebody whose vetting has run out."""
    late = UserFactory(name="Lapsed Lee", vetted=False)
    StaffChecks.objects.create(user=late, of_age=True, vetting_until=club.today() - timedelta(days=1))
    young = UserFactory(name="Young Yun", vetted=False)
    StaffChecks.objects.create(user=young, of_age=False, vetting_until=club.today() + timedelta(days=99))
    staff = (world.people.coach, world.people.helper, late, young, UserFactory(name="Neu Nel", vetted=False))
    return planned(world, part_input(drill=drill(world)), staff=staff, **changes)


def test_everything_that_counts_adults_counts_the_same(world: World, client: Any) -> None:
    load_guidelines()
    session = down(world, players_expected=25)
    client.force_login(world.people.coach)
    api = client.get(reverse("api-session", args=[session.public_id])).json()
    sheet = dict(session_sheet(again(session), link="").facts)
    page = session_page(again(session))
    counted = {
        "page": page.adults_there,
        "editor": tally(again(session), []).adults_there,
        "evening": evening_of(session).adults,
        "laying": evening_to_lay(session).adults,
        "proposal": wish_for(session).adults,
        "sheet": int(sheet["Adults"].split()[0]),
        "api": api["adults_counted"],
        "rows": club.adults_counted([each["pk"] for each in queries.staff_rows_of(session)], session.day),
    }
    assert counted == dict.fromkeys(counted, 2)
    # 25 aged 9–12 need 4 at 1:8 (NSPCC/CPSU); the reason counts those who count.
    short = next(each for each in page.view.reasons if each.code == "adults_short")
    assert short.text == "25 players need 4 adults; 2 are down for it."
    assert [each.text for each in short.clears] == [
        "2 more would do.",
        "A parent who stays is a stopgap for tonight: not vetted, so not counted.",
    ]


def test_the_page_says_who_does_not_count_and_why(world: World, client: Any) -> None:
    session = down(world)
    client.force_login(world.people.coach)
    html = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    for text in (
        "Lapsed Lee is not counted as an adult: the vetting has run out by then.",
        "Young Yun is not counted as an adult: not marked as 18 or over.",
        "Neu Nel is not counted as an adult: no vetting date is entered.",
    ):
        assert text in html
    api = client.get(reverse("api-session", args=[session.public_id])).json()
    assert {each["name"]: each["why"] for each in api["adults_not_counted"]} == {
        "Lapsed Lee": "vetting_over",
        "Young Yun": "under_18",
        "Neu Nel": "no_vetting",
    }


def test_vetting_is_asked_for_the_day_of_the_session(world: World) -> None:
    StaffChecks.objects.filter(user=world.people.coach).update(vetting_until=club.today())
    here = planned(world, staff=(world.people.coach,))
    later = planned(world, staff=(world.people.coach,), day=club.today() + timedelta(days=1))
    assert (adults_of(here).number, adults_of(later).number) == (1, 0)


# --- an emergency ---


@pytest.fixture
def ground(world: World) -> Any:
    ClubSettings.objects.update(emergency_number="112", welfare_phone="01632 960 144")
    pitch = PitchFactory(
        name="Back Field",
        address="1 Tannery Lane",
        ambulance_gate="North gate",
        defibrillator="Pavilion door",
    )
    return ZoneFactory(pitch=pitch)


SAID = (
    "112",
    "1 Tannery Lane",
    "North gate",
    "Pavilion door",
    "01632 960 144",
    "Contacts and medical list in your bag?",
)


def test_every_place_shows_the_same_block(world: World, client: Any, ground: Any) -> None:
    session = planned(world, part_input(drill=drill(world)), zones=(ground,), staff=(world.people.coach,))
    block = emergency_of(session)
    assert [text for _, text in block.lines] == list(SAID)
    client.force_login(world.people.coach)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    phone = client.get(reverse("sessions:pitch", args=[session.public_id])).content.decode()
    for text in SAID:
        assert text in page
        assert text in phone
    assert 'href="#emergency" data-to="emergency"' in phone  # one tap, in the page itself
    assert session_sheet(session, link="").emergency == block.lines
    for size in SIZES:  # set on both papers, whole: without any one line another sheet comes out
        sheet = session_sheet(session, link="")
        whole = pdf(sheet, size)
        for index in range(len(block.lines)):
            less = (*block.lines[:index], *block.lines[index + 1 :])
            assert pdf(replace(sheet, emergency=less), size) != whole
    api = client.get(reverse("api-session", args=[session.public_id])).json()["emergency"]
    assert api == plain(emergency(block))


def test_gaps_are_pointed_out_where_they_can_be_mended(world: World, client: Any) -> None:
    zone = ZoneFactory(pitch=PitchFactory(name="Back Field", address="1 Tannery Lane"))
    session = planned(world, zones=(zone,))
    client.force_login(world.people.director)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "no gate for an ambulance or nearest defibrillator yet." in page
    assert reverse("club:settings") in page
    client.force_login(world.people.coach)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "The director can add it." in page


def test_the_last_child_collected_carries_time_and_who(world: World, client: Any) -> None:
    session = planned(world, part_input(drill=drill(world)))
    assert emergency_of(session).collected is None
    ended = record(world, session, ("delivered", {}), ("collected", {}), ("collected", {}))
    block = emergency_of(ended)
    assert block.collected_words.endswith(", said by Carl Coach")
    assert block.collected.at == session.period.lower + timedelta(minutes=2)  # the last tap counts
    client.force_login(world.people.coach)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert block.collected_words in page
    api = client.get(reverse("api-session", args=[session.public_id])).json()["emergency"]
    assert (api["collected_said_by"], api["last_child_collected"] is not None) == ("Carl Coach", True)


# --- out until lifted ---


def out(world: World, **given: Any) -> Any:
    given = {"since": timezone.now() - timedelta(days=2), **given}
    return club_actions.set_out(player=world.own.player, by_id=world.people.coach.pk, **given)


@pytest.fixture
def in_the_morning() -> Iterator[None]:
    """Ten in the morning of today, whenever the tests are run: before the evening's session."""
    with time_machine.travel(
        club.club_now(ClubSettings()).replace(hour=10, minute=0, second=0, microsecond=0)
    ):
        yield


def test_who_is_out_comes_off_the_number_expected_everywhere(
    in_the_morning: None, world: World, client: Any
) -> None:
    session = planned(world, part_input(drill=drill(world)), players_expected=12)
    assert queries.expected_of(session) == 12
    out(world)
    session, plain = again(session), TrainingSession.objects.get(pk=session.pk)
    client.force_login(world.people.coach)
    api = client.get(reverse("api-session", args=[session.public_id])).json()
    view = session_view(session)
    expected = {
        "rows at hand": queries.expected_of(session),
        "row alone": queries.expected_of(plain),
        "view": view.players,
        "evening": evening_of(session).players,
        "laying": evening_to_lay(session).players,
        "proposal": wish_for(session).players,
        "phone": pitch_page(session).data["expected"],
        "sheet": int(dict(session_sheet(session, link="").facts)["Players"]),
        "api": api["players_without_out"],
    }
    assert expected == dict.fromkeys(expected, 11)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "12 planned, the others are out until lifted" in page
    assert "Set everything up for 11" in page
    parts = client.get(reverse("sessions:parts", args=[session.public_id])).content.decode()
    assert "11 players expected" in parts
    club_actions.lift_out(player=world.own.player, by_id=None)
    assert queries.expected_of(again(session)) == 12


def test_what_was_keeps_its_number(world: World) -> None:
    """Neither a session before the knock nor one after it was lifted counts it."""
    past = planned(world, day=club.today() - timedelta(days=9), players_expected=12)
    later = planned(world, day=club.today() + timedelta(days=9), players_expected=12)
    out(world)
    assert (queries.expected_of(again(past)), queries.expected_of(again(later))) == (12, 11)
    club_actions.lift_out(player=world.own.player, by_id=None)
    assert queries.expected_of(again(later)) == 12


def test_two_times_out_are_one_player(world: World) -> None:
    session = planned(world, players_expected=12)
    now = timezone.now()
    PlayerOut.objects.create(
        player=world.own.player, since=now - timedelta(days=30), lifted_at=now - timedelta(days=20)
    )
    assert queries.expected_of(again(session)) == 12  # since of one row and lifted of another are not mixed
    out(world)
    assert queries.expected_of(again(session)) == 11


def test_a_tap_at_the_pitch_is_out_in_every_register(world: World) -> None:
    session = planned(world, part_input(drill=drill(world)))
    actor, player = club.actor_of(world.people.coach), str(world.own.player.public_id)
    recorded = record(world, session, ("arrived", {"player": player}), ("out", {"player": player}))
    row = PlayerOut.objects.get()
    assert (str(row.player.public_id), row.set_by) == (player, world.people.coach)
    line = recorded.delivery["register"][player]
    assert (line["state"], line["taking"]) == ("here", "watching")
    other = planned(world, day=club.today() + timedelta(days=3))
    assert [each.out for each in players_for(actor, other)] == [True]
    shown = page_data(pitch_page(other), players_for(actor, other), happened(other))
    assert [each.get("out") for each in shown["players"]] == [True]
    director = club.actor_of(world.people.director)
    elsewhere = planned_session(
        place=world.foreign, by=world.people.director, day=club.today() + timedelta(days=4)
    )
    assert {each.id: each.out for each in guests_for(director, elsewhere).players}[player]


def test_a_phone_that_did_not_know_is_kept_and_the_page_says_so(world: World, client: Any) -> None:
    session = planned(world, part_input(drill=drill(world)))
    out(world)
    player = str(world.own.player.public_id)
    recorded = record(world, session, ("arrived", {"player": player}))
    assert recorded.delivery["register"][player]["state"] == "here"
    assert session_page(recorded).though_out == 1
    client.force_login(world.people.coach)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "1 player is recorded as taking part while out until lifted." in page
    watching = record(world, again(session), ("watching", {"player": player}))
    assert session_page(watching).though_out == 0


def test_who_is_out_is_in_no_turn(world: World) -> None:
    from sessions.queries.turns import here, session_with_turns

    session = planned(world, part_input(drill=drill(world)))
    actor = club.actor_of(world.people.coach)
    read = session_with_turns(session.public_id)
    part = session_view(read).parts[0]
    assert len(here(actor, read, part)) == 1
    out(world)
    assert here(actor, read, part) == []


def test_nobody_else_learns_who_is_out(world: World, client: Any) -> None:
    session = planned(world, part_input(drill=drill(world)))
    out(world)
    client.force_login(world.people.reader)
    page = client.get(reverse("sessions:session", args=[session.public_id])).content.decode()
    assert "Ottilie" not in page
    assert client.get(reverse("api-player-out", args=[world.own.player.public_id])).status_code == 403


# --- keepers in sight ---


def test_keepers_on_another_pitch_are_told_on_the_session(world: World) -> None:

    keeper = drill(world, title="Catch", activity="keeper", numbers={"least": 2, "most": 4})
    near = ZoneFactory()
    one = part_input(drill=drill(world))
    stations = (*one.stations, StationInput(drill_id=keeper.public_id, variation_key="", stays=True))
    part = replace(one, stations=stations)
    staff = (world.people.coach, world.people.helper)
    session = planned(world, part, zones=(near,), staff=staff)
    codes = [each.code for each in session_view(session).all_reasons]
    assert not {"keepers_no_second", "keepers_out_of_sight"} & set(codes)
    StaffChecks.objects.filter(user=world.people.helper).update(of_age=False)
    codes = [each.code for each in session_view(again(session)).all_reasons]
    assert "keepers_no_second" in codes


def test_keepers_laid_out_on_another_pitch_are_out_of_sight(world: World) -> None:
    """Two small pitches, a grid on each: where the grids lie is what is asked, not what is booked."""
    near, far = (
        ZoneFactory(pitch=PitchFactory(name=name), length_m=30, width_m=30) for name in ("Near", "Far")
    )
    one = part_input(drill=drill(world))
    keeper = StationInput(drill_id=drill(world, activity="keeper").public_id, variation_key="", stays=True)
    part = replace(one, stations=(*one.stations, keeper))
    session = planned(world, part, zones=(near, far), staff=(world.people.coach, world.people.helper))
    kept = laid_out(evening_to_lay(session), [to_lay(each.stations) for each in session_view(session).parts])
    assert len({grid.space for grid in kept[0].layout.placed}) == 2
    (found,) = [each for each in session_view(session).all_reasons if each.code == "keepers_out_of_sight"]
    assert found.part == str(session.parts.all()[0].public_id)
    assert found.clears[0].code == "clear_keepers_sight"
