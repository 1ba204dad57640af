"""A set-up that is accepted on the session page while an evening is recorded: page, phones and what happened know it."""

import json
import uuid
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from rest_framework.test import APIClient

from club.errors import Refused
from club.queries import actor_of
from drills.game.fits import fits
from sessions import actions, pages, queries
from sessions.bridge import setup_kept
from sessions.models import DeliveryEvent, TrainingSession
from sessions.pages.happened import what_happened
from sessions.pages.pitch import page_data, pitch_page
from sessions.queries.pitch import happened
from tests.factories_sessions import part_input
from tests.people import World, signed_in
from tests.sessions.pitch.evening import Evening
from tests.sessions.proposing.evening import HARDER
from tests.sessions.setting_up import again, drill, planned, record, rondos, set_up, stations_of

pytestmark = pytest.mark.django_db
OLDER = {"numbers": "2 × 4v1", "grids": 2, "players_total": 10, "length_m": 8, "width_m": 8, "waiting": 0}


def answers(session: Any, station: Any, players: int) -> Any:
    document = queries.station_of(again(session), station.public_id).drill.document
    return fits(document, station.variation_key, queries.evening_typed(again(session), players=players))


def at_the_desk(world: World, session: Any, station: Any, players: int = 11) -> Any:
    """Accept the first answer for so many on the session page; what it is."""
    best = answers(session, station, players)[0]
    sent = {
        "players": players,
        "numbers": best.numbers,
        "grids": best.grids,
        "version": again(session).version,
    }
    url = f"/sessions/{session.public_id}/stations/{station.public_id}/take/"
    page = signed_in(world.people.coach).post(url, sent, follow=True).content.decode()
    assert "It is played like this tonight." in page
    return best


def begun(world: World, session: Any) -> Any:
    return record(world, session, ("trialist", {"number": 1}))


def accepted(session: Any) -> list[DeliveryEvent]:
    return list(DeliveryEvent.objects.filter(session=session, kind="fit_accepted").order_by("seq"))


def test_page_feed_phone_and_what_happened_say_the_same(world: World) -> None:
    session = begun(world, rondos(world, 1))
    (part,), (station,) = session.parts.all(), stations_of(session)
    best = at_the_desk(world, session, station)
    client = signed_in(world.people.coach)
    body = json.dumps({"events": [], "since": session.last_seq})
    url = f"/api/v1/sessions/{session.public_id}/events/"
    (told,) = client.post(url, body, content_type="application/json").json()["events"]
    assert (told["kind"], told["part"], told["rung"]) == ("fit_accepted", str(part.public_id), "")
    wanted = {"numbers": best.numbers, "grids": best.grids, "players_total": 11}
    assert wanted.items() <= told["setup"].items()
    assert "kept" not in told["setup"]
    row = again(session)
    shown = page_data(pitch_page(row), [], happened(row))
    assert shown["events"][-1] == told
    assert setup_kept(stations_of(session)[0]).setup.numbers == best.numbers
    assert row.delivery["parts"][0]["setup"]["players_total"] == 11
    (event,) = accepted(session)
    assert (event.actor, event.body["setup"]["kept"]) == (world.people.coach, stations_of(session)[0].setup)
    record(world, session, ("delivered", {}))
    done = what_happened(queries.session_view(again(session)), with_names=False)
    assert done is not None
    (said,) = [each.text for each in done.parts[0].changes if each.code == "ran_set_up"]
    assert best.numbers in said
    page = client.get(f"/sessions/{session.public_id}/").content.decode()
    assert said in page.replace("\xa0", " ")  # sizes stay on one line


def test_it_stays_the_last_word_whatever_a_phone_accepted_before(world: World) -> None:
    """Also where the phone's clock runs ahead of ours, so that what it said before bears a later time."""
    session = rondos(world, 1)
    part = str(session.parts.all()[0].public_id)
    evening = Evening(session, world.people, [], "", "", session.period.lower, [part])
    late = {**evening.event("fit_accepted", part=part, setup=OLDER), "at": _ahead(hours=2)}
    evening.append(late, {**evening.event("harder", part=part, to="gone"), "at": _ahead(hours=3)})
    best = at_the_desk(world, session, stations_of(session)[0])
    evening.append({**evening.event("fit_accepted", part=part, setup=OLDER), "at": _ahead(hours=1)})
    assert setup_kept(stations_of(session)[0]).setup.players_total == 11
    assert again(session).delivery["parts"][0]["setup"]["numbers"] == best.numbers


def _ahead(hours: int) -> str:
    from django.utils import timezone

    return (timezone.now() + timedelta(hours=hours)).isoformat()


def test_before_anything_is_recorded_a_plan_leaves_no_event(world: World) -> None:
    session = rondos(world, 1)
    at_the_desk(world, session, stations_of(session)[0])
    assert accepted(session) == []


def test_a_station_beside_the_first_is_named_and_leaves_the_parts_variation_alone(world: World) -> None:
    one = part_input(drill=drill(world, variations=HARDER))
    session = begun(world, planned(world, replace(one, stations=one.stations * 2)))
    first, second = stations_of(session)
    part = str(session.parts.all()[0].public_id)
    record(world, session, ("harder", {"part": part, "to": "two"}))
    best = at_the_desk(world, session, second, 8)
    (event,) = accepted(session)
    assert (event.body["station"], "rung" in event.body) == (str(second.public_id), False)
    state = again(session).delivery["parts"][0]
    assert (state["variation"], state["setup"]) == ("two", None)
    assert state["setups"][str(second.public_id)]["numbers"] == best.numbers
    assert [each.setup is not None for each in stations_of(session)] == [False, True]
    assert first.public_id != second.public_id


def test_everything_set_up_on_the_page_is_told_whole_station_by_station(world: World) -> None:
    one = part_input(drill=drill(world))
    session = planned(world, replace(one, stations=one.stations * 2))
    first, second = stations_of(session)
    part = str(session.parts.all()[0].public_id)
    session = record(
        world,
        session,
        ("fit_accepted", {"part": part, "station": str(second.public_id), "setup": OLDER}),
    )
    url = f"/sessions/{session.public_id}/set-up/"
    signed_in(world.people.coach).post(url, {"players": "15", "version": session.version, "anew": "on"})
    rows = stations_of(session)
    assert [setup_kept(each).setup.players_total for each in rows] == [8, 7]
    told = accepted(session)[1:]
    assert [each.body.get("station") for each in told] == [None, str(second.public_id)]
    assert [each.body["setup"]["kept"] for each in told] == [each.setup for each in rows]
    # What comes in afterwards brings nothing older back.
    record(world, session, ("fit_accepted", {"part": part, "setup": OLDER}))
    assert [setup_kept(each).setup.players_total for each in stations_of(session)] == [8, 7]
    assert first.public_id == rows[0].public_id


def test_the_api_tells_phones_too_and_the_pitch_tells_itself(world: World) -> None:
    session = begun(world, rondos(world, 1))
    (part,), (station,) = session.parts.all(), stations_of(session)
    best = answers(session, station, 11)[0]
    sent = {"players": 11, "numbers": best.numbers, "grids": best.grids}
    pitch = f"/sessions/{session.public_id}/pitch/setup/"
    answer = signed_in(world.people.helper).post(pitch, {**sent, "part": str(part.public_id)})
    assert (answer.status_code, accepted(session)) == (200, [])
    client = APIClient()
    client.force_login(world.people.coach, backend="django.contrib.auth.backends.ModelBackend")
    url = f"/api/v1/sessions/{session.public_id}/stations/{station.public_id}/setup/"
    tag = f'"v{again(session).version}"'
    done = client.put(url, sent, format="json", HTTP_IF_MATCH=tag)
    if done.status_code == 405:
        done = client.post(url, sent, format="json", HTTP_IF_MATCH=tag)
    assert (done.status_code, done.json()["version"]) == (200, again(session).version)
    assert [each.body["setup"]["numbers"] for each in accepted(session)] == [best.numbers]


def test_it_stays_the_last_word_over_one_that_named_the_first_station(world: World) -> None:
    session = rondos(world, 1)
    (station,) = stations_of(session)
    named = {"part": str(station.part.public_id), "station": str(station.public_id)}
    session = record(world, session, ("fit_accepted", {**named, "setup": OLDER}))
    assert setup_kept(stations_of(session)[0]).setup.players_total == 10
    at_the_desk(world, session, station)
    assert setup_kept(stations_of(session)[0]).setup.players_total == 11
    # Named once more, and later than the desk: that is the last word now.
    again_named = {
        "id": str(uuid.uuid4()),
        "kind": "fit_accepted",
        "at": _ahead(hours=20),
        **named,
        "setup": OLDER,
    }
    Evening(session, world.people, [], "", "", session.period.lower, []).append(again_named)
    assert setup_kept(stations_of(session)[0]).setup.players_total == 10


@pytest.mark.parametrize("over", ["delivered", "cancelled"])
def test_a_session_that_is_done_is_set_up_no_more(world: World, over: str) -> None:
    session = rondos(world, 1)
    (station,) = stations_of(session)
    best = answers(session, station, 11)[0]
    session = record(world, session, (over, {"reason": "weather"} if over == "cancelled" else {}))
    with pytest.raises(Refused, match="This session has taken place"):
        actions.accept_setup(
            actor=actor_of(world.people.coach),
            session=session,
            version=session.version,
            station=station,
            evening=queries.evening_typed(session, players=11),
            numbers=best.numbers,
            grids=best.grids,
        )
    assert (stations_of(session)[0].setup, accepted(session)) == (None, [])
    assert TrainingSession.objects.get(pk=session.pk).version == session.version


def test_the_page_of_all_set_ups_and_a_new_number_agree_afterwards(world: World) -> None:
    session = begun(world, rondos(world, 2))
    first, second = stations_of(session)
    at_the_desk(world, session, first, 11)
    assert set_up(world, again(session), players=11) == {second.public_id}
    assert [each.standing for each in pages.all_set_up(again(session), 11).lines] == ["holds", "holds"]


def test_back_to_the_drill_as_written_is_told_too_and_nothing_comes_back(world: World) -> None:
    session = begun(world, rondos(world, 2))
    first, second = stations_of(session)
    part = str(first.part.public_id)
    session = record(world, session, ("fit_accepted", {"part": part, "setup": OLDER}))
    at_the_desk(world, session, first)
    at_the_desk(world, session, second)
    url = f"/sessions/{session.public_id}/stations/{first.public_id}/drop/"
    client = signed_in(world.people.coach)
    page = client.post(url, {"version": again(session).version}, follow=True).content.decode()
    assert "Back to the drill as it is written." in page
    state = again(session).delivery
    assert [each["setup"] is None for each in state["parts"]] == [True, False]
    assert set(state["undone"]) == {str(each.event_id) for each in accepted(session)[:2]}
    # A phone accepts something else: what was dropped does not come along.
    record(world, session, ("fit_accepted", {"part": str(second.part.public_id), "setup": OLDER}))
    assert stations_of(session)[0].setup is None
    record(world, session, ("delivered", {}))
    refused = client.post(url, {"version": again(session).version}, follow=True).content.decode()
    assert "This session has taken place." in refused
    assert setup_kept(stations_of(session)[1]) is not None
