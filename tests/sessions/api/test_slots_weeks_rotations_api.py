"""Slots, weeks and rotations over the API."""

from datetime import timedelta
from typing import Any

import pytest
from rest_framework.test import APIClient

from club.queries import today
from sessions import actions, pages
from sessions.choices import Kind
from tests.factories import ZoneFactory
from tests.factories_sessions import part_input, planned_session, weekly_slot
from tests.people import World
from tests.sessions.api.test_sessions_api import client_of, pointers


def slot_body(world: World, **changes: Any) -> dict[str, Any]:
    given = {
        "squad": str(world.own.squad.public_id),
        "weekday": 2,
        "starts": "18:00",
        "ends": "19:15",
        "first_day": today().isoformat(),
        "last_day": (today() + timedelta(days=90)).isoformat(),
        "zones": [str(ZoneFactory().public_id)],
        "coaches": [str(world.people.coach.public_id)],
    }
    return {**given, **changes}


def test_the_director_makes_and_changes_a_slot(world: World) -> None:
    director = client_of(world.people.director)
    body = slot_body(world)
    made = director.post("/api/v1/slots/", body, format="json")
    assert (made.status_code, made.json()["coaches"][0]["name"]) == (201, "Carl Coach")
    url = f"/api/v1/slots/{made.json()['id']}/"
    changed = director.put(url, {**body, "ends": "19:30"}, format="json", HTTP_IF_MATCH=made["ETag"])
    assert (changed.status_code, changed.json()["ends"]) == (200, "19:30")
    stale = director.put(url, body, format="json", HTTP_IF_MATCH=made["ETag"])
    assert stale.status_code == 412
    assert director.get("/api/v1/slots/").json()["count"] == 1


def test_a_slot_that_is_taken_points_at_the_zones(world: World) -> None:
    zone = ZoneFactory()
    weekly_slot(place=world.colleague, zones=[zone], weekday=2)
    refused = client_of(world.people.director).post(
        "/api/v1/slots/", slot_body(world, zones=[str(zone.public_id)]), format="json"
    )
    assert refused.status_code == 400
    assert pointers(refused)["/zones"].startswith("Badgers have this space")


def test_a_week_tells_load_budget_minutes_and_reasons(world: World) -> None:
    part = part_input(minutes=60, bouts=1, bout_s=3600, changeover_s=0)
    planned_session(place=world.own, by=world.people.coach, parts=[part])
    actions.add_ledger_entry(
        squad_id=world.own.squad.pk,
        day=today(),
        kind=Kind.TOURNAMENT,
        title="Cup day",
        minutes=150,
        effort=6,
        entered_by_id=world.people.coach.pk,
    )
    week = pages.iso_week(pages.monday_of(today()))
    url = f"/api/v1/age-groups/{world.own.age_group.public_id}/weeks/{week}/"
    found = client_of(world.people.coach).get(url).json()
    squad = found["squads"][0]
    assert (found["week"], found["label"], squad["name"]) == (week, "U12", "Otters")
    # 150 × 6 entered, 60 × 5 planned, against 1000
    assert (squad["total_au"], squad["budget_au"], squad["over_au"]) == (1200, 1000, 200)
    assert (squad["minutes"], squad["football_days"], squad["rest_days"]) == (225, 1, 6)
    assert (squad["hours"], squad["hours_most"]) == (3.75, None)
    assert [each["kind"] for each in squad["lines"]] == ["tournament", "training"]
    reason = squad["reasons"][0]
    assert reason["code"] == "week_over"
    assert squad["told"] == reason["text"] == "Heavy week: a fifth over (figures in the detail)."
    # leaving out all 300 AU is enough; the tournament of the same day is seen
    [way] = squad["lighter"]
    assert [(each["kind"], each["saving_au"]) for each in way["changes"]] == [("session", 300)]
    assert reason["clears"] == [way["changes"][0]["text"]]
    assert "on the day of a tournament (Cup day): takes off all of that." in reason["clears"][0]
    assert squad["detail"] is None


def test_the_detail_is_the_directors_from_day_28_on(world: World) -> None:
    for days_ago, effort in ((30, 5), (0, 6)):
        actions.add_ledger_entry(
            squad_id=world.own.squad.pk,
            day=today() - timedelta(days=days_ago),
            kind=Kind.MATCH,
            title="League",
            minutes=60,
            effort=effort,
            entered_by_id=world.people.coach.pk,
        )
    week = pages.iso_week(pages.monday_of(today()))
    url = f"/api/v1/age-groups/{world.own.age_group.public_id}/weeks/{week}/"
    assert client_of(world.people.coach).get(url).json()["squads"][0]["detail"] is None
    detail = client_of(world.people.director).get(url).json()["squads"][0]["detail"]
    # one day of seven: monotony sqrt(1/6) (Foster 1998, population SD)
    assert detail["monotony"] == pytest.approx((1 / 6) ** 0.5)
    assert detail["strain"] == pytest.approx(360 * (1 / 6) ** 0.5)


def test_the_youngest_have_minutes_and_no_load(world: World) -> None:
    group = world.own.age_group
    group.session_load_au = group.week_load_au = None
    group.week_minutes = 100
    group.save()
    planned_session(place=world.own, by=world.people.coach, parts=[part_input()])
    week = pages.iso_week(pages.monday_of(today()))
    url = f"/api/v1/age-groups/{group.public_id}/weeks/{week}/"
    squad = client_of(world.people.coach).get(url).json()["squads"][0]
    assert (squad["total_au"], squad["budget_au"], squad["minutes"], squad["budget_minutes"]) == (
        None,
        None,
        75,
        100,
    )
    assert {each["load_au"] for each in squad["days"]} == {None}


@pytest.mark.parametrize("week", ["2026-W54", "2026-48", "next", "2026-W"])
def test_a_week_that_is_none_is_not_found(world: World, week: str) -> None:
    url = f"/api/v1/age-groups/{world.own.age_group.public_id}/weeks/{week}/"
    assert client_of(world.people.director).get(url).status_code == 404


@pytest.fixture
def helper(world: World) -> APIClient:
    return client_of(world.people.helper)


def rotate(client: APIClient, **body: Any) -> Any:
    return client.post("/api/v1/rotations/", body, format="json")


def test_three_teams_go_round_evenly(helper: APIClient) -> None:
    answer = rotate(helper, teams=3, inside=2, bouts=6)
    assert answer.status_code == 200
    found = answer.json()
    assert (len(found["bouts"]), found["spread"], found["bound"], found["proven"]) == (6, 0, 0, True)
    inside = [team for bout in found["bouts"] for team in bout["inside"]]
    assert {team: inside.count(team) for team in inside} == {"A": 4, "B": 4, "C": 4}


def test_players_go_through_roles(helper: APIClient) -> None:
    found = rotate(
        helper, players=["Ann", "Bo", "Cy", "Di", "Ed"], slots={"inside": 3, "outside": 1}, bouts=5
    )
    bouts = found.json()["bouts"]
    assert {len(bout["places"]["inside"]) for bout in bouts} == {3}
    waiting = [name for bout in bouts for name in bout["waiting"]]
    assert sorted(waiting) == ["Ann", "Bo", "Cy", "Di", "Ed"]


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        ({"bouts": 4}, "/teams"),
        ({"bouts": 4, "teams": 3, "players": 9}, "/teams"),
        ({"bouts": 4, "teams": 3}, "/inside"),
        ({"bouts": 4, "players": 9}, "/slots"),
        ({"bouts": 500, "teams": 3, "inside": 2}, "/bouts"),
        ({"bouts": 4, "teams": 400, "inside": 2}, "/teams"),
        ({"bouts": 4, "teams": "three", "inside": 2}, "/teams"),
        ({"bouts": "x", "teams": 3, "inside": 2}, "/bouts"),
        ({"bouts": 4, "players": [1, 2], "slots": {"in": 1}}, "/players"),
        ({"bouts": 4, "players": 4, "slots": {"in": 2}, "pinned": {"Zed": "in"}}, "/pinned"),
    ],
)
def test_impossible_rotations_are_refused_with_a_pointer(
    helper: APIClient, body: dict[str, Any], pointer: str
) -> None:
    refused = rotate(helper, **body)
    assert (refused.status_code, list(pointers(refused))) == (400, [pointer])


def test_too_few_players_are_answered_with_a_reason(helper: APIClient) -> None:
    found = rotate(helper, players=3, slots={"inside": 4}, bouts=2).json()
    assert (found["bouts"], found["reasons"][0]["code"]) == ([], "too_few_players")
