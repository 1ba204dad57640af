"""Single players through a part: by page and API, from the register, kept without names, minutes over four weeks."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from club.queries import actor_of, today
from drills.game import bibs
from drills.game.design import Design
from drills.game.evening import Evening, as_plain
from drills.game.fit import fit, serialize
from drills.game.format import Format
from sessions import actions, queries
from sessions.models import Register, Station, TrainingSession, Turns
from sessions.pages import turns_page, turns_sheet
from sessions.queries.turns import session_with_turns
from sessions.queries.turns.asked import places_of
from tests.factories import BibStockFactory, player_in
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World

pytestmark = pytest.mark.django_db


@pytest.fixture
def drill(world: World) -> Any:
    bare: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases")}
    return shared_drill(owner=world.people.coach, **bare, format="4v4", queue=None)


def evening(world: World, drill: Any, **when: Any) -> Any:
    return planned_session(
        place=world.own, by=world.people.coach, parts=[part_input(drill=drill, bouts=5)], **when
    )


def rotate(world: World, session: Any) -> Turns:
    row = session_with_turns(session.public_id)
    assert row is not None
    found = actions.station_in_part(row, session.parts.all()[0].stations.all()[0].public_id)
    assert found is not None
    return actions.rotate_station(
        actor=actor_of(world.people.coach), session=row, part=found[0], station=found[1]
    )


def squad_of(world: World, count: int) -> list[Any]:
    """With the player that the world has already."""
    since = today() - timedelta(days=60)
    return [player_in(squad=world.own.squad, shirt=90 - number, since=since) for number in range(count - 1)]


def test_ten_players_in_eight_places_wait_evenly_and_no_name_is_kept(world: World, drill: Any) -> None:
    players = squad_of(world, 10)
    serialize = rotate(world, evening(world, drill))
    assert [len(each["waiting"]) for each in serialize.bouts] == [2] * 5
    assert (serialize.facts["spread_min"], serialize.facts["bound_min"], serialize.facts["proven"]) == (
        0,
        0,
        True,
    )
    assert players[0].display_name not in str([serialize.bouts, serialize.facts])


def test_a_whole_team_that_rests_tonight_goes_round_in_its_own_bibs(world: World, drill: Any) -> None:
    squad_of(world, 12)
    session = evening(world, drill)
    on_grids(session.parts.all()[0].stations.all()[0], "4v4", resting=4)
    serialize = rotate(world, queries.session_by_id(session.public_id))
    assert (serialize.facts["whole_teams"], serialize.facts["changes"]) == (True, 0)
    assert [len(each["waiting"]) for each in serialize.bouts] == [4] * 5
    bibs = [{each["bib"] for each in bout["teams"]} for bout in serialize.bouts]
    assert bibs[0] == {"red", "blue"}
    assert set().union(*bibs) == {"red", "blue", "yellow"}


def test_the_register_says_who_is_there_and_when(world: World, drill: Any, client: Client) -> None:
    players, session = squad_of(world, 11), evening(world, drill)
    starts = queries.session_view(session).parts[0].times.spells
    bouts = [each for each in starts if each.kind == "bout"]
    lines = {each: {"state": "here"} for each in [*players[1:], world.own.player]}
    lines[players[1]] = {"state": "late", "came_at": bouts[1].starts_at}
    lines[players[2]] = {"state": "here", "limits": ["at most 9 min"]}
    Register.objects.bulk_create(
        Register(session=session, player=player, **line) for player, line in lines.items()
    )
    late, limited = str(players[1].public_id), str(players[2].public_id)
    serialize = rotate(world, session)
    assert [late in each["away"] for each in serialize.bouts] == [True, False, False, False, False]
    assert [limited in each["away"] for each in serialize.bouts] == [False, False, True, True, True]
    assert str(players[0].public_id) not in serialize.facts["players"]

    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    path = f"stations/{serialize.station_id}"
    page = client.get(f"/sessions/{session.public_id}/{path}/turns/").content.decode()
    assert players[1].display_name in page
    answer = client.get(f"/api/v1/sessions/{session.public_id}/{path}/rotation/").json()
    minutes = {each["id"]: each["night"] for each in answer["players"]}
    assert minutes[limited]["inside_min"] + minutes[limited]["waiting_min"] == 8


def test_four_weeks_count_what_took_place(world: World, drill: Any, client: Client) -> None:
    squad_of(world, 9)
    for weeks, state in ((1, "delivered"), (2, "cancelled"), (5, "delivered")):
        before = evening(world, drill, day=today() - timedelta(weeks=weeks))
        rotate(world, before)
        why = "weather" if state == "cancelled" else ""
        TrainingSession.objects.filter(pk=before.pk).update(state=state, why_cancelled=why)
    session = evening(world, drill)
    serialize = rotate(world, session)
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    url = f"/api/v1/sessions/{session.public_id}/stations/{serialize.station_id}/rotation/"
    found = client.get(url).json()["players"]
    there = {(present(each["night"]), present(each["four_weeks"])) for each in found}
    assert there == {(20, 40)}


def present(minutes: dict[str, float]) -> float:
    return minutes["inside_min"] + minutes["waiting_min"]


def test_the_turns_on_paper_have_names_for_the_staff(world: World, drill: Any, client: Client) -> None:
    players = squad_of(world, 10)
    session = evening(world, drill)
    serialize = rotate(world, session)
    row = session_with_turns(session.public_id)
    found = actions.station_in_part(row, serialize.station_id)
    assert row is not None
    assert found is not None
    sheet = turns_sheet(turns_page(actor_of(world.people.coach), row, *found))
    assert {each.name for each in sheet.players} >= {each.display_name for each in players}
    assert [each.cells[0] for each in sheet.players].count("off") == 2
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    paper = client.get(f"/sessions/{session.public_id}/stations/{serialize.station_id}/turns.pdf")
    assert (paper.status_code, paper["Content-Type"], paper.content[:5]) == (200, "application/pdf", b"%PDF-")
    url = f"/api/v1/sessions/{session.public_id}/stations/{serialize.station_id}/turns.pdf"
    same = client.get(url)
    assert (same["ETag"], same.content == paper.content) == (paper["ETag"], True)
    assert client.get(url, headers={"If-None-Match": same["ETag"]}).status_code == 304
    Turns.objects.all().delete()
    assert client.get(url).status_code == 404


def test_pairs_are_kept_or_those_that_clash_are_named(world: World, drill: Any, client: Client) -> None:
    first, second, third = squad_of(world, 8)[:3]
    session = evening(world, drill)
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    station = session.parts.all()[0].stations.all()[0]
    url = f"/sessions/{session.public_id}/stations/{station.public_id}/turns/"
    ids = [str(each.public_id) for each in (first, second, third)]
    client.post(url, {"pair-first": ids[:2], "pair-second": ids[1:], "pair-how": ["together", "apart"]})
    for bout in Turns.objects.get().bouts:
        worn = {name: team["bib"] for team in bout["teams"] for name in team["players"]}
        assert worn[ids[0]] == worn[ids[1]] != worn[ids[2]]
    assert [each.together for each in client.get(url).context["page"].pairs] == [True, False]
    assert actions.forget_pairs() == 0
    TrainingSession.objects.update(day=today() - timedelta(days=1))
    assert (actions.forget_pairs(), "pairs" in Turns.objects.get().facts) == (1, False)
    TrainingSession.objects.update(day=today())
    Turns.objects.all().delete()  # bouts that are over by now would stay as they were
    clash = {"pair-first": ids[:1] * 2, "pair-second": ids[1:2] * 2, "pair-how": ["together", "apart"]}
    refused = client.post(url, clash)
    told = [str(each) for each in refused.context["messages"]]
    assert [(each.first, each.together) for each in refused.context["page"].pairs] == [
        (ids[0], True),
        (ids[0], False),
    ]
    two = f"{first.display_name} and {second.display_name}"
    assert [each.endswith(f"can. Together: {two}. Apart: {two}.") for each in told] == [True]
    sent = {"pairs": [{"first": ids[0], "second": ids[1], "together": how} for how in (True, False)]}
    api = f"/api/v1/sessions/{session.public_id}/stations/{station.public_id}/rotation/"
    problem = client.post(api, sent, content_type="application/json").json()
    assert [each["detail"] for each in problem["errors"]] == told


def test_the_winner_stays_until_the_cap_and_is_noted_once(world: World, client: Client) -> None:
    bare: dict[str, Any] = {key: [] for key in ("goals", "groups", "conditions", "variations", "phases")}
    session = evening(world, shared_drill(owner=world.people.coach, **bare, format="4v4+4", queue=None))
    station = session.parts.all()[0].stations.all()[0]
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    url = f"/sessions/{session.public_id}/stations/{station.public_id}/"
    for bout, ended in ((1, "blue"), (1, "blue"), (2, "draw")):
        client.post(f"{url}winner/", {"bout": bout, "ended": ended, "cap": 2, "grid": 1})
    shown = client.get(f"{url}turns/").context["page"].winners[0]
    assert [(each.playing, each.ended) for each in shown.games] == [
        (("blue", "red"), "blue"),
        (("blue", "yellow"), "draw"),
        (("yellow", "red"), ""),
    ]
    client.post(f"{url}winner/", {"bout": 2, "ended": "", "cap": 2, "grid": 1})
    assert client.get(f"{url}turns/").context["page"].winners[0].on.number == 2


def on_grids(station: Any, *texts: str, resting: int = 0) -> None:
    """As if these had been accepted for tonight, in reds, blues and yellows."""
    formats = tuple(Format.parse(each) for each in texts)
    size = (12.0, 10.0)
    answer = fit(Design(formats[0], *size), players=formats[0].players, length_m=40, width_m=40)[0]
    setup = replace(
        answer, grids=len(formats), grid_formats=formats, grid_sizes=(size,) * len(formats), waiting=resting
    )
    wear = {"blue": "red", "red": "blue"}  # the first side of a drill without groups is drawn in blue
    worn = {**wear, **({bibs.RESTING: "yellow"} if resting else {})}
    Station.objects.filter(pk=station.pk).update(
        setup=serialize.as_plain(serialize.KeptSetUp(setup, (worn,) * len(formats))),
        evening=as_plain(Evening(12)),
    )


def test_on_several_grids_each_has_its_own_games_by_api_and_page(
    world: World, drill: Any, client: Client
) -> None:
    session = evening(world, drill)
    station = session.parts.all()[0].stations.all()[0]
    on_grids(station, "2v2+2", "2v2+2", "2v2")
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    url = f"/api/v1/sessions/{session.public_id}/stations/{station.public_id}/winners/"

    def note(**sent: Any) -> Any:
        return client.post(url, sent, content_type="application/json")

    assert note(grid=2, bout=1, ended="red 2", cap=1).status_code == 200
    note(grid=1, bout=1, ended="draw")
    shown = note(grid=2, bout=2, ended="blue 2").json()
    games = [[(each["playing"], each["ended"]) for each in grid["games"]] for grid in shown["grids"]]
    assert games == [
        [(["red", "blue"], "draw"), (["blue", "yellow"], "")],
        # with one team waiting and a cap of one it is the loser that stays
        [(["red 2", "blue 2"], "red 2"), (["blue 2", "yellow 2"], "blue 2"), (["yellow 2", "red 2"], "")],
    ]
    assert ([each["cap"] for each in shown["grids"]], shown["without"]) == ([3, 1], [3])
    for wrong, pointer in (({"grid": 3, "bout": 1}, "/grid"), ({"grid": 1, "bout": 1}, "/bout")):
        refused = note(**wrong, ended="red")
        assert (refused.status_code, refused.json()["errors"][0]["pointer"]) == (400, pointer)
    page = client.get(f"/sessions/{session.public_id}/stations/{station.public_id}/turns/")
    assert [each.grid for each in page.context["page"].winners] == [1, 2]
    assert b"Not on grid 3" in page.content
    assert client.get(url).json() == shown


def test_bibs_are_counted_by_colour_over_all_grids(world: World, drill: Any) -> None:
    """The second grid's red team wears red as well: it is short of bibs only where both together are."""
    for position, colour in enumerate(("red", "blue", "yellow")):
        BibStockFactory(colour=colour, count=4, position=position)
    session = evening(world, drill)
    station = session.parts.all()[0].stations.all()[0]
    shorts = []
    for grids in (2, 3):
        on_grids(station, *["2v2"] * grids)
        view = queries.station_of(queries.session_by_id(session.public_id), station.public_id)
        shorts.append(places_of(view, 5).short)
    assert shorts == [(), (("red", 6, 4), ("blue", 6, 4))]


def test_too_few_are_told_so(world: World, drill: Any, client: Client) -> None:
    session = evening(world, drill)
    station = session.parts.all()[0].stations.all()[0]
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    page = client.post(f"/sessions/{session.public_id}/stations/{station.public_id}/turns/", follow=True)
    assert b"1 player is there in round 1; the places need 8." in page.content
    assert not Turns.objects.exists()


def test_spread_in_minutes_and_the_winner_staying_on(world: World, client: Client) -> None:
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    sent = {"players": 9, "slots": {"in": 8}, "bouts": 4, "bout_minutes": 3.5}
    found = client.post("/api/v1/rotations/", sent, content_type="application/json").json()
    assert (found["spread_min"], found["bound_min"], found["proven"]) == (3.5, 3.5, True)
    game = {"playing": ["A", "B"], "waiting": ["C", "D"], "winner": "A", "stayed": 2, "cap": 2}
    url = "/api/v1/rotations/next-game/"
    found = client.post(url, game, content_type="application/json").json()
    assert found == {"playing": ["C", "D"], "waiting": ["B", "A"], "stayed": 1}
    wrong = client.post(url, {**game, "winner": "Z"}, content_type="application/json")
    assert (wrong.status_code, wrong["Content-Type"]) == (400, "application/problem+json")
