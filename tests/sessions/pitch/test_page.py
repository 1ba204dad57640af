"""The page at the pitch: everything in one document, light enough for a bad signal, names for its staff alone."""

import gzip
import json
import posixpath
import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders

from club.queries import actor_of
from sessions import queries
from sessions.pages.pitch import pitch_page, taken_along
from sessions.pages.pitch.rungs import ladder_of
from sessions.queries.evening import ages_of
from tests.factories import BibStockFactory, ZoneFactory, player_in
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, put_drills
from tests.sessions.set_ups import setup_of

DRILLS = ("who-is-behind-you", "bite-back", "coast-to-coast", "wide-open")
LIGHT_ENOUGH = 60_000  # bytes, all of it, compressed, from a cold cache
LATER = ("numbers", "trialists", "weather", "after", "apart", "more")  # loaded once the clock runs


def page(person: Any, evening: Evening) -> Any:
    return signed_in(person).get(f"/sessions/{evening.session.public_id}/pitch/")


def data_of(response: Any) -> dict[str, Any]:
    text = re.search(
        r'<script id="evening" type="application/json">(.*?)</script>', response.content.decode()
    )
    return json.loads(text[1])


def fetched(html: str, which: str = "(?:href|src)") -> set[str]:
    """Names of all files that the page brings along before its clock runs, imports of its scripts among them."""
    found = set(re.findall(rf'{which}="/static/([^"]+)"', html))
    waiting = [name for name in found if name.endswith(".js")]
    while waiting:
        name = waiting.pop()
        text = Path(finders.find(name)).read_text(encoding="utf-8")
        folder = name.rsplit("/", 1)[0]
        imports = re.findall(r'from "(\.[^"]+)"', text)
        new = {posixpath.normpath(f"{folder}/{each}") for each in imports} - found
        found |= new
        waiting += new
    return found


def test_the_page_is_light_enough_for_a_bad_signal(evening: Evening) -> None:
    put_drills(evening, *DRILLS)
    for number in range(15):
        player_in(squad=evening.session.squad, display_name=f"Nine letters {number}", shirt=number + 10)
    response = page(evening.people.coach, evening)
    names = fetched(response.content.decode())
    assert {"sessions/pitch/pitch.js", "sessions/phone/outbox.js", "sessions/pitch/pitch.css"} <= names
    assert not {f"sessions/pitch/{name}.js" for name in LATER} & names
    assert not [name for name in names if name.startswith("sessions/pitch/tonight/")]
    files = [Path(finders.find(name)).read_bytes() for name in names]
    weight = sum(len(gzip.compress(each)) for each in (response.content, *files))
    assert 20_000 < weight <= LIGHT_ENOUGH


def test_whatever_the_clock_runs_on_is_asked_for_at_once(evening: Evening) -> None:
    """Not one import after the other: with a bad signal each way there and back counts."""
    html = page(evening.people.coach, evening).content.decode()
    asked = set(re.findall(r'rel="modulepreload" href="/static/([^"]+)"', html))
    runs = {name for name in fetched(html, "src") if name.endswith(".js")}
    assert asked == runs - set(re.findall(r'src="/static/([^"]+)"', html))


def test_every_part_is_there_with_its_plans_words_and_ladder(evening: Evening) -> None:
    put_drills(evening, *DRILLS)
    response = page(evening.people.helper, evening)
    html = unescape(response.content.decode())
    assert html.count('<article class="of-part"') == 4
    assert html.count('<svg class="plan"') == 4
    for words in (
        "Before the ball comes, look behind you: what is there?",
        "Smaller grid: 10 × 10 m instead of 14 × 14 m.",
        "Kit for the next part: Bite Back",
        "Listen for: Who is behind me, and where I can go next.",
        "Advice, not a permit",
    ):
        assert words in html
    first = data_of(response)["parts"][0]
    assert [rung["side"] for rung in first["rungs"]] == ["easier", "base", "harder", "harder"]
    assert (first["rung"], first["bouts"], first["bout_s"], first["rest_s"]) == (1, 2, 330, 60)


def test_what_happened_is_in_the_page(evening: Evening) -> None:
    evening.append(
        evening.event("arrived", 2, player=evening.players[0]), evening.event("note", 3, text="Secret words")
    )
    response = page(evening.people.coach, evening)
    data = data_of(response)
    assert [(each["kind"], each["ms"]) for each in data["events"]] == [
        ("arrived", int((evening.starts.timestamp() + 120) * 1000))
    ]
    assert data["seq"] == 2
    assert "Secret words" not in response.content.decode()


def test_names_are_for_the_staff_of_the_age_group_alone(evening: Evening) -> None:
    people = evening.people
    shown = {name: page(getattr(people, name), evening) for name in ("coach", "helper", "director")}
    for response in shown.values():
        assert {"Ottilie Own", "Child U12 1", "Child U12 2"} == {
            each["name"] for each in data_of(response)["players"]
        }


def guests(person: Any, evening: Evening) -> Any:
    return signed_in(person).get(f"/sessions/{evening.session.public_id}/pitch/guests/")


def test_names_of_other_squads_come_when_asked_for_to_who_works_with_them(evening: Evening) -> None:
    from club.models import AccessLog

    people = evening.people
    assert [each["name"] for each in guests(people.director, evening).json()["guests"]] == [
        "Bertram Beside",
        "Fridolin Far",
    ]
    assert list(AccessLog.objects.values_list("squad__name", flat=True).order_by("squad__name")) == [
        "Badgers",
        "Foxes",
    ]
    assert guests(people.coach, evening).json() == {"guests": []}
    assert guests(people.colleague, evening).status_code == 404
    assert guests(people.reader, evening).status_code == 403


def test_a_guest_on_the_register_is_in_the_page_by_name(evening: Evening) -> None:
    from club import queries as club

    director = club.actor_of(evening.people.director)
    evening.append(evening.event("guest", player=evening.guest), actor=director)
    shown = data_of(page(evening.people.helper, evening))["players"]
    assert [each["name"] for each in shown if each.get("guest")] == ["Bertram Beside"]


@pytest.mark.parametrize(
    ("who", "status"),
    [("colleague", 404), ("reader", 403), ("administrator", 403), ("stranger", 403), ("nobody", 302)],
)
def test_nobody_else_opens_it(evening: Evening, who: str, status: int) -> None:
    response = page(getattr(evening.people, who), evening)
    assert response.status_code == status
    assert "Ottilie" not in response.content.decode()


def test_a_player_of_other_staff_reads_is_noted(evening: Evening) -> None:
    from club.models import AccessLog

    page(evening.people.helper, evening)
    assert list(AccessLog.objects.values_list("user__name", "page")) == [("Hedy Helper", "pitch")]


@pytest.mark.parametrize("parts", [1, 3])
def test_the_page_takes_as_many_queries_with_three_parts_as_with_one(
    evening: Evening, django_assert_num_queries: Any, parts: int
) -> None:
    put_drills(evening, *DRILLS[:parts])
    evening.append(evening.event("arrived", player=evening.players[0]))
    client, url = signed_in(evening.people.coach), f"/sessions/{evening.session.public_id}/pitch/"
    client.get(url)  # notes once a day that names were read
    with django_assert_num_queries(13):  # kit and figures in force among them, and turns that were worked out
        response = client.get(url)
    assert response.status_code == 200


def test_pictures_of_other_rungs_come_after_the_clock(evening: Evening) -> None:
    """The page has the planned one's; with what is taken along every rung has its own."""
    put_drills(evening, *DRILLS)
    session = queries.session_by_id(evening.session.public_id)
    shown = pitch_page(session)
    assert [len(part.plans) for part in shown.parts] == [1, 1, 1, 1]
    assert all(rung.plan == 0 for part in shown.parts for rung in part.rungs)
    along = json.loads(taken_along(actor_of(evening.people.coach), session).as_json())
    for part, view in zip(shown.parts, shown.view.parts, strict=True):
        drawn = ladder_of(view, ages_of(session.age_group))
        own = [
            None if number is None else along["html"][number] for number in along["parts"][part.key]["ladder"]
        ]
        wanted = [str(drawn.plans[each.plan]) for each in drawn.rungs]
        assert part.plans == [wanted[drawn.rungs.index(drawn.now)]]
        assert [part.plans[0] if each is None else each for each in own] == wanted


# ---- numbers changed ------------------------------------------------------------------------------------------------


def numbers(evening: Evening, **changes: Any) -> dict[str, Any]:
    part = str(evening.read().parts.order_by("position").first().public_id)
    asked = {"part": part, "players": 15, "keepers": "", "adults": 2, "length": 30, "width": 20}
    return {**asked, **changes}


def test_fifteen_came_and_thirty_by_twenty_is_free(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    BibStockFactory.create_batch(4)
    client = signed_in(evening.people.helper)
    base = f"/sessions/{evening.session.public_id}/pitch/"
    answers = client.get(f"{base}fit/", numbers(evening)).content.decode()
    setups = [json.loads(unescape(each)) for each in re.findall(r'data-setup="([^"]+)"', answers)]
    assert setups
    best = setups[0]
    assert (best["players_total"], best["length_m"] <= 30, best["width_m"] <= 30) == (15, True, True)
    assert answers.count("<svg") == len(setups)
    taken = client.post(f"{base}setup/", numbers(evening, numbers=best["numbers"], grids=best["grids"]))
    station = evening.read().parts.first().stations.first()
    assert (taken.status_code, setup_of(station).numbers, station.evening["players"]) == (
        200,
        best["numbers"],
        15,
    )
    assert "Teams and bibs" in taken.content.decode()
    assert data_of(page(evening.people.coach, evening))["parts"][0]["turns"] == json.loads(
        unescape(re.search(r'data-turns="([^"]*)"', taken.content.decode())[1])
    )


WRONG = [
    ({"players": "many"}, "Players: A whole number, please: 12."),
    ({"players": 500}, "From 1 to 60 players."),
    ({"length": 0}, "More than 0 and at most 130 m."),
    ({"width": "wide"}, "Free width, m: A number, please: 6 or 6.5."),
    ({"keepers": 20}, "Not more than the players."),
]


@pytest.mark.parametrize(("changes", "text"), WRONG)
def test_wrong_numbers_are_answered_in_words(evening: Evening, changes: dict[str, Any], text: str) -> None:
    put_drills(evening, "all-aboard")
    url = f"/sessions/{evening.session.public_id}/pitch/"
    client = signed_in(evening.people.coach)
    assert text in unescape(client.get(f"{url}fit/", numbers(evening, **changes)).content.decode())
    response = client.post(f"{url}setup/", numbers(evening, numbers="5v5", grids=1, **changes))
    assert (response.status_code in (400, 409), evening.read().parts.first().stations.first().setup) == (
        True,
        None,
    )


def test_a_setup_that_nobody_was_offered_is_not_taken(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    url = f"/sessions/{evening.session.public_id}/pitch/setup/"
    response = signed_in(evening.people.coach).post(url, numbers(evening, numbers="11v11", grids=1))
    assert (response.status_code, evening.read().parts.first().stations.first().setup) == (409, None)


@pytest.mark.parametrize("changes", [{"part": "seven"}, {"rung": "no-such-rung"}])
def test_a_part_or_rung_that_is_not_there(evening: Evening, changes: dict[str, Any]) -> None:
    put_drills(evening, "all-aboard")
    url = f"/sessions/{evening.session.public_id}/pitch/fit/"
    assert signed_in(evening.people.coach).get(url, numbers(evening, **changes)).status_code == 404


def test_another_rung_is_fitted_without_changing_the_plan(evening: Evening) -> None:
    put_drills(evening, "who-is-behind-you")
    url = f"/sessions/{evening.session.public_id}/pitch/fit/"
    rungs = data_of(page(evening.people.coach, evening))["parts"][0]["rungs"]
    response = signed_in(evening.people.coach).get(url, numbers(evening, rung=rungs[2]["key"]))
    assert (response.status_code, evening.read().parts.first().stations.first().variation_key) == (200, "")
    assert "10 × 10 m" in response.content.decode()


def test_a_colleague_fits_nothing_here(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    base = f"/sessions/{evening.session.public_id}/pitch/"
    client = signed_in(evening.people.colleague)
    assert client.get(f"{base}fit/", numbers(evening)).status_code == 404
    assert client.post(f"{base}setup/", numbers(evening, numbers="5v5", grids=1)).status_code == 404


def test_a_booked_zone_is_the_space_that_is_asked_about(evening: Evening) -> None:
    from sessions.models import SessionZone

    zone = ZoneFactory(length_m=44, width_m=33)
    SessionZone.objects.create(session=evening.session, zone=zone, period=evening.session.period)
    put_drills(evening, "all-aboard")
    starts = data_of(page(evening.people.coach, evening))["parts"][0]["starts"]
    assert (starts["length"], starts["width"], starts["ground_help"]) == ("44", "33", "")


def test_where_nothing_is_booked_the_fields_are_empty_and_say_what_that_means(evening: Evening) -> None:
    put_drills(evening, "all-aboard")
    starts = data_of(page(evening.people.coach, evening))["parts"][0]["starts"]
    assert (starts["length"], starts["width"], starts["ground_help"]) == ("", "", "as much as it takes")
    url = f"/sessions/{evening.session.public_id}/pitch/fit/"
    asked = numbers(evening, length="", width="")
    html = unescape(signed_in(evening.people.coach).get(url, asked).content.decode())
    assert "Nobody said how much room or how much kit: as much as it takes." in html


def test_moments_are_milliseconds_that_begin_end_and_leave_the_pitch_in_turn(evening: Evening) -> None:
    data = data_of(page(evening.people.coach, evening))
    assert data["starts"] == evening.starts.timestamp() * 1000
    assert data["off"] - data["starts"] == data["minutes"] * 60_000
    assert data["starts"] < data["clear"] <= data["off"]
