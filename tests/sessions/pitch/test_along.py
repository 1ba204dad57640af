"""What a phone takes along: the answers that Fit gives, pieces that the page would be redrawn with, light, and without names."""

import gzip
import json
import re
from html import unescape
from typing import Any

import pytest

from club import queries as club
from sessions import queries
from sessions.models import Station
from tests.factories import BibStockFactory, player_in
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, put_drills
from tests.sessions.pitch.test_page import DRILLS, data_of, numbers, page

MOST_BYTES = 150_000  # the whole page, cold, and what goes along with it, compressed


def url(evening: Evening, last: str = "along") -> str:
    return f"/sessions/{evening.session.public_id}/pitch/{last}/"


def along(evening: Evening, person: Any = None) -> dict[str, Any]:
    response = signed_in(person or evening.people.helper).get(url(evening))
    assert response.status_code == 200
    return json.loads(response.content)


def plain(html: str) -> str:
    """What a coach reads of a piece: its words, without names inside pictures."""
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html))).strip()


def stations(evening: Evening) -> list[Station]:
    return list(Station.objects.filter(part__session=evening.session).order_by("part__position"))


def test_each_answer_is_the_one_that_fit_gives(evening: Evening) -> None:
    session = put_drills(evening, "all-aboard", "bite-back")
    BibStockFactory.create_batch(4)
    found, client = along(evening), signed_in(evening.people.helper)
    assert (found["least"], found["most"]) == (8, 16)
    starts = {"keepers": "", "adults": "", "length": "", "width": ""}
    for part in session.parts.all():
        near = found["parts"][str(part.public_id)]["near"]
        assert list(near) == [str(each) for each in range(8, 17)]
        for players, row in near.items():
            asked = numbers(evening, **starts, part=str(part.public_id), players=players)
            html = client.get(url(evening, "fit"), asked).content.decode()
            setups = [json.loads(unescape(each)) for each in re.findall(r'data-setup="([^"]+)"', html)]
            if "answer" not in row:
                assert setups == []
                assert row["why"]
                assert all(text in unescape(html) for text in row["why"])
                continue
            answer = found["answers"][row["answer"]]
            assert answer["setup"] == setups[0]
            assert all(text in unescape(html) for text in (answer["title"], *answer["why"]))


def test_its_pieces_read_as_those_that_the_server_sends_when_it_is_taken(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    BibStockFactory.create_batch(4)
    found = along(evening)
    (part,) = found["parts"].values()
    answer = found["answers"][part["near"]["15"]["answer"]]
    setup = answer["setup"]
    asked = numbers(evening, numbers=setup["numbers"], grids=setup["grids"], adults="", length="", width="")
    shown = signed_in(evening.people.helper).post(url(evening, "setup"), asked).content.decode()
    assert stations(evening)[0].setup == setup["kept"]
    for name in ("teams", "plan", "say", "coaching", "safety"):
        words = plain(found["html"][answer[name]])
        assert words
        assert words in plain(shown), name
    for name in ("condition", "rules"):  # of the planned rung; the server sends all of them
        assert plain(found["html"][answer[name]]) in plain(shown), name
    turns = re.search(r'data-turns="([^"]*)"', shown)
    assert turns
    assert turns[0] in found["html"][answer["teams"]]


def test_set_up_from_along_it_is_as_the_server_would_have_set_everything_up(evening: Evening) -> None:
    from sessions import actions
    from sessions.queries import session_by_id

    put_drills(evening, *DRILLS)
    BibStockFactory.create_batch(4)
    found = along(evening)
    session = session_by_id(evening.session.public_id)
    actor = club.actor_of(evening.people.coach)
    rows = {key: part["all"]["15"][0] for key, part in found["parts"].items()}
    evening.append(
        *(
            evening.event("fit_accepted", 3, part=key, rung=answer["rung"], setup=answer["setup"])
            for key, row in rows.items()
            for answer in [found["answers"][row["answer"]]]
        )
    )
    phone = [(each.setup, each.evening, each.variation_key) for each in stations(evening)]
    assert all(setup for setup, _evening, _key in phone)
    Station.objects.filter(part__session=session).update(setup=None, evening=None)
    again = session_by_id(evening.session.public_id)
    actions.set_up_all(actor=actor, session=again, version=again.version, players=15)
    assert [(each.setup, each.evening, each.variation_key) for each in stations(evening)] == phone


def test_undone_a_station_is_as_it_was_before_anybody_accepted(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    found = along(evening)
    ((key, part),) = found["parts"].items()
    first, other = (found["answers"][part["near"][n]["answer"]] for n in ("14", "15"))
    accepted = [
        evening.event("fit_accepted", minute, part=key, rung="", setup=each["setup"])
        for minute, each in ((3, first), (4, other))
    ]
    evening.append(*accepted)
    assert stations(evening)[0].setup == other["setup"]["kept"]
    evening.append(evening.event("undone", 5, event=accepted[0]["id"]))
    assert stations(evening)[0].setup == other["setup"]["kept"]  # something else was accepted since
    evening.append(evening.event("undone", 6, event=accepted[1]["id"]))
    assert (stations(evening)[0].setup, stations(evening)[0].evening) == (None, None)


def test_all_undone_one_by_one_every_station_is_as_it_was_planned(evening: Evening) -> None:
    from sessions import actions

    session = put_drills(evening, *DRILLS[:3])
    actor = club.actor_of(evening.people.coach)
    actions.set_up_all(actor=actor, session=session, version=session.version, players=13)
    planned = [(each.setup, each.evening) for each in stations(evening)]
    found = along(evening)
    events = [
        evening.event("fit_accepted", 3, part=key, rung=answer["rung"], setup=answer["setup"])
        for key, part in found["parts"].items()
        for answer in [found["answers"][part["all"]["15"][0]["answer"]]]
    ]
    for each in events:
        evening.append(each)
    assert [each.evening["players"] for each in stations(evening)] == [15] * 3
    for minute, each in enumerate(events, start=4):
        evening.append(evening.event("undone", minute, event=each["id"]))
    assert [(each.setup, each.evening) for each in stations(evening)] == planned


def test_undone_it_goes_back_to_what_was_set_up_at_the_desk(evening: Evening) -> None:
    from sessions import actions
    from sessions.queries import session_by_id

    session = put_drills(evening, "all-aboard")
    actor = club.actor_of(evening.people.coach)
    actions.set_up_all(actor=actor, session=session, version=session.version, players=13)
    planned = (stations(evening)[0].setup, stations(evening)[0].evening)
    assert planned[0]
    again = session_by_id(session.public_id)
    actions.set_up_all(actor=actor, session=again, version=None, players=15)  # at the pitch, with a signal
    assert stations(evening)[0].evening["players"] == 15
    (event,) = evening.session.delivery_events.values_list("event_id", flat=True)
    evening.append(evening.event("undone", 6, event=str(event)))
    assert (stations(evening)[0].setup, stations(evening)[0].evening) == planned


def test_pieces_that_are_alike_are_there_once(evening: Evening) -> None:
    put_drills(evening, *DRILLS)
    found = along(evening)
    assert len(set(found["html"])) == len(found["html"])
    used = {each[name] for each in found["answers"] for name in ("teams", "plan", "rules") if name in each}
    assert used <= set(range(len(found["html"])))
    assert len(used) < 3 * len(found["answers"])


def test_plan_b_runs_tonight_and_is_none_of_the_sessions_own(evening: Evening) -> None:
    from bibrack.demo.library import FOLDER
    from drills import actions as library
    from drills.game.document import decode
    from drills.models import Drill

    session = put_drills(evening, *DRILLS)
    director = club.actor_of(evening.people.director)
    for path in sorted(FOLDER.glob("*.json"))[:12]:
        if path.stem not in DRILLS:
            library.create_drill(actor=director, document=decode(path.read_bytes()))
    found = along(evening, evening.people.director)
    own = {str(each.revision.drill.public_id) for part in session.parts.all() for each in part.stations.all()}
    assert 1 <= len(found["instead"]) <= 3
    for each in found["instead"]:
        assert each["drill"] not in own
        drill = Drill.objects.get(public_id=each["drill"])
        assert (each["title"], each["revision"]) == (drill.title, drill.current_revision.number)
        assert found["answers"][each["answer"]]["setup"]["players_total"] == 12
    kit_is_out = [not each["fetch"] for each in found["instead"]]
    assert kit_is_out == sorted(kit_is_out, reverse=True)


def test_who_is_off_comes_from_the_turns_that_were_worked_out(evening: Evening) -> None:
    from sessions.models import Turns

    session = put_drills(evening, "all-aboard")
    (station,) = stations(evening)
    waits = [{"number": 1, "waiting": [evening.players[0]]}, {"number": 2, "waiting": []}]
    Turns.objects.create(session=session, station_id=station.public_id, bouts=waits, facts={})
    (part,) = data_of(page(evening.people.coach, evening))["parts"]
    assert part["off"] == [[evening.players[0]], []]
    assert evening.players[0] not in json.dumps(along(evening))


def test_whoever_has_it_is_sent_nothing_until_something_changes(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    client = signed_in(evening.people.coach)
    first = client.get(url(evening))
    assert first["Cache-Control"] == "private, no-cache"
    same = client.get(url(evening), headers={"If-None-Match": first["ETag"]})
    assert (same.status_code, same.content, same["ETag"]) == (304, b"", first["ETag"])
    assert client.get(url(evening), headers={"If-None-Match": f"W/{first['ETag']}"}).status_code == 304
    evening.append(evening.event("arrived", player=evening.players[0]))  # one is there: the number is another
    changed = client.get(url(evening), headers={"If-None-Match": first["ETag"]})
    assert (changed.status_code, json.loads(changed.content)["least"]) == (200, 1)
    BibStockFactory.create_batch(2)
    kit = client.get(url(evening), headers={"If-None-Match": changed["ETag"]})
    assert kit.status_code == 200


def test_no_name_stands_in_it(evening: Evening) -> None:
    put_drills(evening, *DRILLS)
    player_in(squad=evening.session.squad, display_name="Zephyrine Zweig")
    evening.append(evening.event("arrived", player=evening.players[0]))
    text = signed_in(evening.people.coach).get(url(evening)).content.decode()
    assert not [name for name in ("Zephyrine", "Ottilie", "Child", evening.players[0]) if name in text]


@pytest.mark.parametrize("parts", [1, 3])
def test_it_takes_as_many_queries_with_three_parts_as_with_one(
    evening: Evening, django_assert_num_queries: Any, parts: int
) -> None:
    put_drills(evening, *DRILLS[:parts])
    client = signed_in(evening.people.coach)
    with django_assert_num_queries(10):
        assert client.get(url(evening)).status_code == 200


def test_page_and_along_are_light_for_every_session_of_the_demo(demo_database: str) -> None:
    from django.test import Client

    from club.queries import actor_of, today, user_by_email
    from sessions.models import TrainingSession
    from sessions.pages.pitch import page_data, pitch_page, taken_along
    from sessions.queries.pitch import happened, players_for
    from tests.sessions.pitch.test_page import LIGHT_ENOUGH

    actor = actor_of(user_by_email("director@demo.example"))
    found = {}
    for each in TrainingSession.objects.filter(day__gte=today()).order_by("day", "starts")[:24]:
        session = queries.session_by_id(each.public_id)
        if session is not None and session.parts.all():
            found[session.public_id] = len(gzip.compress(taken_along(actor, session).as_json(), 6))
    heaviest = max(found, key=lambda key: found[key])
    assert (
        20_000 < found[heaviest] <= MOST_BYTES - LIGHT_ENOUGH
    )  # the page is held under the rest by its own test
    client = Client()
    client.force_login(user_by_email("director@demo.example"))
    sent = client.get(f"/sessions/{heaviest}/pitch/along/", headers={"Accept-Encoding": "gzip"})
    assert sent["Content-Encoding"] == "gzip"
    assert abs(len(sent.content) - found[heaviest]) < 2000
    session = queries.session_by_id(heaviest)
    assert page_data(pitch_page(session), players_for(actor, session), happened(session))["parts"]
