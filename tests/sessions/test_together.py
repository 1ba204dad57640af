"""Two teams in one session, one coach over two, a third shared on purpose: possible, said, and counted once."""

from datetime import date, time, timedelta
from functools import partial
from typing import Any

import pytest

from club.actions.guidelines import load_guidelines
from club.errors import Clash, Refused, Stale
from club.queries import actor_of, today
from sessions import actions, pages, queries
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.choices import WhyCancelled
from sessions.models import SessionStaff, SessionZone, Together
from sessions.planning.supervision import adults_needed
from sessions.queries.evening import pieces_of
from sessions.queries.guides import adult_rule_for
from sessions.queries.laying import evening_to_lay
from sessions.queries.over_all import over_all, own_crew
from sessions.queries.together import companions
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session
from tests.harness.races import race
from tests.people import World, make_world
from tests.sessions.test_laying import drill


@pytest.fixture
def zone(db: None) -> Any:
    return ZoneFactory(name="North", pitch__name="Long Meadow", length_m=60, width_m=40)


def pair(world: World, zone: Any = None, **other: Any) -> tuple[Any, Any]:
    """The own team's session with a zone and its coach, and a colleague's with neither, at the same time."""
    zones = [zone] if zone else []
    one = planned_session(place=world.own, zones=zones, staff=[world.people.coach], players_expected=12)
    return one, planned_session(place=world.colleague, players_expected=10, **other)


def join(world: World, one: Any, two: Any, **share: bool) -> Any:
    return actions.put_together(
        actor=actor_of(world.people.director), session=one, version=one.version, other=two, **share
    )


def again(row: Any) -> Any:
    found = queries.session_by_id(row.public_id)
    assert found is not None
    return found


def test_two_share_a_pitch_and_a_coach_only_when_they_were_put_together(world: World, zone: Any) -> None:
    one, two = pair(world, zone)
    frame = {
        "when": DayAndTimes(two.day, two.starts, two.ends),
        "title": "",
        "theme_id": None,
        "players_expected": 10,
    }
    change = partial(actions.change_session, session=two, **frame)
    with pytest.raises(Clash):
        change(version=two.version, place=ZonesAndStaff((zone.pk,)))
    with pytest.raises(Clash):
        change(version=two.version, place=ZonesAndStaff((), (world.people.coach.pk,)))
    join(world, one, two)
    two = again(two)
    change(version=two.version, place=ZonesAndStaff((zone.pk,), (world.people.coach.pk,)))
    assert SessionZone.objects.filter(zone=zone).count() == 2
    assert SessionStaff.objects.filter(user=world.people.coach).count() == 2
    # Somebody else still meets a clash.
    with pytest.raises(Clash):
        planned_session(place=world.foreign, zones=[zone])


def test_everybody_is_counted_once_against_the_players_of_both(world: World, zone: Any) -> None:
    load_guidelines()
    one, two = pair(world, zone, staff=[world.people.colleague])
    join(world, one, two, share_people=True)
    for row in (one, two):
        view = queries.session_view(again(row))
        assert (view.adults_there, len(view.staff)) == (2, 2)
        # 22 players, by the age of the younger team (U9: 8 or 7 years), as each alone would be by its own.
        youngest = adult_rule_for(world.colleague.age_group, one.day)
        assert youngest is not None
        assert view.adults_needed == adults_needed(22, youngest)
    assert [each.team for each in companions(again(one))] == ["U9 Badgers"]
    assert [each.team for each in companions(again(two))] == ["U12 Otters"]


def test_an_adult_who_is_shared_lays_kit_for_one_of_the_sessions(world: World) -> None:
    """Four minutes of laying are two for two adults; two who are in both sessions are one in each."""
    lamps = drill(world, "Small Lamps", 20, 15, 8)
    coach, colleague, helper = world.people.coach, world.people.colleague, world.people.helper
    one = planned_session(
        place=world.own, staff=[coach, helper], by=world.people.director, parts=[part_input(drill=lamps)]
    )
    two = planned_session(
        place=world.colleague, staff=[colleague], by=world.people.director, parts=[part_input(drill=lamps)]
    )

    def minutes() -> list[tuple[int, float]]:
        views = [queries.session_view(again(row)) for row in (one, two)]
        return [(evening_to_lay(again(view.row)).adults, view.set_up_minutes) for view in views]

    assert minutes() == [(2, 2), (1, 4)]
    join(world, one, two)
    assert minutes() == [(2, 2), (1, 4)]
    one = again(one)
    actions.take_apart(session=one, version=one.version)
    join(world, again(one), again(two), share_people=True)
    assert [len(queries.session_view(again(row)).staff) for row in (one, two)] == [3, 3]
    crews = [own_crew(again(row)) for row in (one, two)]
    assert sum(crews) == over_all(again(one)).adults == over_all(again(two)).adults == 3
    assert sorted(minutes()) == [(1, 4), (2, 2)]
    assert [evening_to_lay(again(row)).adults for row in (one, two)] == crews


def test_a_leader_stays_the_leader_and_a_session_without_one_gets_the_other(world: World) -> None:
    one, two = pair(world)
    join(world, one, two, share_people=True)
    rows = {(row.session_id, row.user_id): row.part for row in SessionStaff.objects.all()}
    coach = world.people.coach.pk
    assert rows == {(one.pk, coach): "leads", (two.pk, coach): "leads"}


def test_a_shared_zone_is_two_strips_that_make_up_the_zone_and_say_so(world: World, zone: Any) -> None:
    one, two = pair(world, zone)
    join(world, one, two, share_place=True)
    (mine,), (theirs,) = pieces_of(again(one)), pieces_of(again(two))
    assert (mine.length_m, mine.width_m, theirs.width_m) == (60, 20, 20)
    # What meets in the middle is a group; the outer sides are as the zone has them.
    assert (mine.bottom, mine.top, theirs.bottom, theirs.top) == ("open", "group", "group", "open")
    assert pages.session_page(again(two)).shared_words == (
        "Yours of North: strip 2 of 2, counted from the near side."
    )
    alone = planned_session(place=world.foreign, zones=[ZoneFactory(length_m=50, width_m=30)])
    assert (pieces_of(alone)[0].width_m, pages.session_page(alone).shared_words) == (30, "")


def test_apart_again_names_what_is_shared_still(world: World, zone: Any) -> None:
    one, two = pair(world, zone)
    join(world, one, two, share_place=True)
    one = again(one)
    with pytest.raises(Clash) as refusal:
        actions.take_apart(session=one, version=one.version)
    assert refusal.value.problems[0].text == (
        "Long Meadow, North is shared with U9 Badgers. Change it in one of the two sessions first."
    )
    two = again(two)
    frame = {"title": "", "theme_id": None, "players_expected": 10, "place": ZonesAndStaff()}
    actions.change_session(
        session=two, version=two.version, when=DayAndTimes(two.day, two.starts, two.ends), **frame
    )
    actions.take_apart(session=one, version=one.version)
    assert Together.objects.count() == 0
    assert (companions(again(one)), companions(again(two))) == ([], [])


@pytest.mark.parametrize("how", ["moved", "cancelled"])
def test_a_session_that_goes_elsewhere_is_alone_again(world: World, zone: Any, how: str) -> None:
    one, two = pair(world, zone)
    join(world, one, two, share_place=True)
    two = again(two)
    if how == "moved":
        when = DayAndTimes(two.day + timedelta(days=1), two.starts, two.ends)
        actions.move_session(session=two, version=two.version, when=when)
    else:
        actions.cancel_session(session=two, version=two.version, why=WhyCancelled.TOO_FEW)
    assert Together.objects.count() == 0
    assert pieces_of(again(one))[0].width_m == 40
    keys = dict(SessionZone.objects.values_list("session_id", "together"))
    assert all(keys[row.pk] == row.public_id for row in (one, two) if row.pk in keys)


def test_a_third_joins_both(world: World, zone: Any) -> None:
    one, two = pair(world, zone)
    join(world, one, two)
    three = planned_session(place=world.foreign)
    one = again(one)
    join(world, one, three, share_place=True)
    assert [each.team for each in companions(again(three))] == ["U12 Otters", "U9 Badgers"]
    assert {round(pieces_of(again(row))[0].width_m, 1) for row in (one, two, three)} == {13.3}


@pytest.mark.parametrize(
    ("day", "starts", "ends", "text"),
    [
        (1, time(18), time(19), "They aren't at the same time: move one of them first."),
        (0, time(19, 15), time(20), "They aren't at the same time: move one of them first."),
    ],
)
def test_only_sessions_at_the_same_time(world: World, day: int, starts: time, ends: time, text: str) -> None:
    when: date = today() + timedelta(days=day)
    one, two = pair(world, day=when, starts=starts, ends=ends)
    with pytest.raises(Refused) as refusal:
        join(world, one, two)
    assert refusal.value.by_field() == {"with": [text]}
    with pytest.raises(Refused):
        join(world, one, one)


def test_whoever_plans_for_both_may_and_nobody_else(world: World) -> None:
    one, two = pair(world)
    with pytest.raises(Refused):
        actions.put_together(actor=actor_of(world.people.coach), session=one, version=one.version, other=two)
    assert Together.objects.count() == 0


@pytest.mark.django_db(transaction=True)
def test_two_who_put_together_at_once_are_looked_at_one_after_the_other() -> None:
    world = make_world()
    one, two = pair(world, ZoneFactory())
    found = race(partial(join, world, one, two, share_place=True), partial(join, world, two, one))
    assert found["done"] >= 1
    assert found["done"] + found["stale"] == 2
    assert len({row.key for row in Together.objects.all()}) == 1


def test_a_stale_page_is_refused(world: World) -> None:
    one, two = pair(world)
    join(world, one, two)
    with pytest.raises(Stale):
        join(world, one, two)


def test_by_form_and_by_the_api(world: World, zone: Any, client: Any) -> None:
    one, two = pair(world, zone)
    client.force_login(world.people.director)
    page = client.get(f"/sessions/{one.public_id}/together/")
    assert "U9 Badgers, 18:00–19:15" in page.content.decode()
    typed = {"version": one.version, "other": str(two.public_id), "share_place": "on"}
    assert client.post(f"/sessions/{one.public_id}/together/", typed).status_code == 302
    shown = client.get(f"/sessions/{two.public_id}/").content.decode()
    assert "<bdi>U12 Otters</bdi></a>" in shown
    assert "strip 2 of 2" in shown
    answer = client.get(f"/api/v1/sessions/{two.public_id}/")
    assert answer.json()["together"] == [{"id": str(one.public_id), "name": "U12 Otters"}]
    address = f"/api/v1/sessions/{two.public_id}/together/"
    shared = client.delete(address, headers={"If-Match": answer["ETag"]})
    assert (shared.status_code, "is shared with U12 Otters" in shared.json()["detail"]) == (409, True)
    patched = client.patch(
        f"/api/v1/sessions/{two.public_id}/",
        {"zones": []},
        content_type="application/json",
        headers={"If-Match": answer["ETag"]},
    )
    apart = client.delete(address, headers={"If-Match": patched["ETag"]})
    assert (apart.status_code, apart.json()["together"]) == (200, [])
    body = {"other": str(one.public_id)}
    joined = client.post(address, body, content_type="application/json", headers={"If-Match": apart["ETag"]})
    assert joined.json()["together"] == [{"id": str(one.public_id), "name": "U12 Otters"}]
