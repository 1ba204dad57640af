"""Attendance: one value on the page, over the API, in the file and on a player's page; and who reads which names."""

import csv
import html
import re
from datetime import date, timedelta
from io import StringIO
from typing import Any

import pytest
from django.utils.html import strip_tags

from club import actions as club
from club.models import AccessLog
from club.queries import today
from sessions import pages
from sessions.queries.recorded.attendance import attendance_of, weeks_back
from tests.factories import player_in
from tests.people import World, signed_in
from tests.sessions.attending import held

pytestmark = pytest.mark.django_db
API = "/api/v1/attendance/"


def page(person: Any, world: World, query: str = "") -> Any:
    return signed_in(person).get(f"/sessions/squads/{world.own.squad.public_id}/attendance/{query}")


def api(person: Any, world: World, **query: Any) -> Any:
    return signed_in(person).get(API, {"squad": str(world.own.squad.public_id), **query})


def words(response: Any, tag: str) -> list[str]:
    """The texts of a page's rows or cells, blanks made one."""
    found = re.findall(rf"<{tag}\b.*?</{tag}>", response.content.decode(), re.DOTALL)
    return [" ".join(html.unescape(strip_tags(each.replace("<", " <"))).split()) for each in found]


@pytest.fixture
def players(world: World) -> list[Any]:
    """Four of the own team beside the world's one, by name."""
    more = [player_in(squad=world.own.squad, display_name=name) for name in ("Ada B", "Bea C", "Cato D")]
    return [*more, world.own.player]


@pytest.fixture
def three(world: World, players: list[Any]) -> list[Any]:
    """Three sessions done, one of them with a guest and one not marked, and one that runs with two marked so far."""
    ada, bea, cato, own = players
    guest = world.colleague.player
    return [
        held(world, world.own, 14, {ada: "arrived", bea: "late", cato: "absent", own: "arrived"}),
        held(world, world.own, 7, {ada: "left", bea: "watching", own: "arrived", guest: "guest"}),
        held(world, world.own, 3, {}),
        held(world, world.own, 0, {ada: "arrived", cato: "absent"}, done=False),
    ]


def test_the_page_shows_players_down_and_sessions_across(world: World, three: list[Any]) -> None:
    shown = page(world.people.coach, world)
    rows = words(shown, "tr")
    assert rows[1:6] == [
        "Ada B Here Left early Here 3 of 3 120 min",
        "Bea C Late Watching Not marked 2 of 2 60 min",
        "Cato D Not here Not marked Not here 0 of 3 0 min",
        "7 Ottilie Own Here Here Not marked 2 of 2 150 min",
        "Guests from other teams",
    ]
    assert rows[6] == "Bertram Beside Badgers Here 1 of 1 75 min"
    assert rows[7] == "Came 3 of 4 3 of 4 + 1 guest no register 1 of 4 so far"
    assert "counted so far" in shown.content.decode()


def test_page_api_and_file_read_one_value(world: World, three: list[Any]) -> None:
    director = world.people.director
    found = pages.team_attendance(world.own.squad, today() - timedelta(days=20), today(), with_names=True)
    sent = api(director, world, **{"from": (today() - timedelta(days=20)).isoformat()}).json()
    assert sent["count"] == len(found.columns) == 4
    for told, column in zip(sent["results"], found.columns, strict=True):
        assert (told["session"], told["came"], told["listed"], told["guests"], told["not_marked"]) == (
            str(column.session.public_id),
            column.count.came,
            column.count.listed,
            column.count.guests,
            column.count.not_marked,
        )
        assert (told["runs"], told["taken"]) == (column.session.runs, column.session.taken)
    file = rows_of(api(director, world, format="csv"))
    assert {len(row) for row in file} == {len(file[0])}
    body = words(page(director, world), "tr")[1:-1]
    lines = [each for each in body if not each.startswith("Guests")]
    assert len(lines) == len(sent["players"]) == len(found.lines) == 5
    for shown, told, line, cells in zip(lines, sent["players"], found.lines, file[1:], strict=False):
        count = line.count
        assert (told["display_name"], told["came"], told["of"], told["minutes"], told["last"]) == (
            line.name,
            count.came,
            count.of,
            count.minutes,
            count.last and count.last.isoformat(),
        )
        assert line.name in shown
        assert shown.endswith(f"{count.came} of {count.of} {count.minutes:.0f} min")
        assert (cells[0], int(cells[-6]), int(cells[-5]), float(cells[-4])) == (
            line.name,
            count.came,
            count.of,
            count.minutes,
        )
        assert cells[-2:] == ["", ""]  # who was in play is not known
        marks = {
            each["session"]: mark
            for each in sent["results"]
            for mark in each["marks"]
            if mark["player"] == told["player"] and mark["as_guest"] == told["as_guest"]
        }
        spoken = [
            pages.word_of(marks[each["session"]]["mark"]) if each["session"] in marks else ""
            for each in sent["results"]
        ]
        assert spoken == cells[3:-6]
        assert " ".join(each for each in spoken if each) in shown


def rows_of(response: Any) -> list[list[str]]:
    assert response.status_code == 200, response.content
    assert response["Content-Type"].startswith("text/csv")
    return list(csv.reader(StringIO(response.content.decode("utf-8-sig"), newline="")))


def test_a_players_page_shows_the_same_figures(world: World, players: list[Any], three: list[Any]) -> None:
    team = pages.team_attendance(world.own.squad, today() - timedelta(days=55), today(), with_names=True)
    for player in players:
        line = next(each for each in team.lines if each.public_id == player.public_id)
        found = pages.player_attendance(player)
        assert (found.came, found.of, found.not_marked, found.minutes, found.last) == (
            line.count.came,
            line.count.of,
            line.count.not_marked,
            line.count.minutes,
            line.count.last,
        )
        shown = signed_in(world.people.coach).get(f"/squads/players/{player.public_id}/")
        facts = " ".join(words(shown, "dl"))
        assert f"Came, last 8 weeks {line.count.came} of {line.count.of}" in facts
        assert f"Minutes {line.count.minutes:.0f}" in facts


def test_a_player_is_counted_in_each_team_of_the_weeks_and_as_a_guest(
    world: World, players: list[Any]
) -> None:
    ada = players[0]
    held(world, world.own, 10, {ada: "arrived"})
    club.move_player(
        player=ada, version=ada.version, to=world.colleague.squad, on=today() - timedelta(days=5)
    )
    held(world, world.colleague, 2, {ada: "absent"})
    held(world, world.own, 1, {ada: "guest"})
    found = pages.player_attendance(ada)
    assert (found.came, found.of, found.guest, found.minutes) == (1, 2, 1, 150)
    assert found.last == today() - timedelta(days=1)
    team = pages.team_attendance(world.own.squad, today() - timedelta(days=20), today(), with_names=True)
    lines = [(each.name, each.is_guest, each.left, each.team) for each in team.lines if each.name == "Ada B"]
    assert lines == [("Ada B", False, True, ""), ("Ada B", True, False, "Badgers")]


def test_a_reader_sees_counts_without_names(world: World, three: list[Any]) -> None:
    reader = world.people.reader
    shown = page(reader, world)
    assert words(shown, "tr")[1].endswith("3 of 4")
    sent = api(reader, world).json()
    assert sent["players"] is None
    assert [(each["came"], each["listed"], each["marks"]) for each in sent["results"]] == [
        (3, 4, None), (3, 4, None), (0, 4, None), (1, 4, None),
    ]  # fmt: skip
    for text in (shown.content.decode(), str(sent)):
        assert not re.search("Ada B|Ottilie|Bertram", text)
    assert AccessLog.objects.count() == 0


def test_names_that_are_read_are_noted_also_those_of_guests(world: World, three: list[Any]) -> None:
    page(world.people.helper, world)
    api(world.people.coach, world)
    api(world.people.director, world, format="csv")
    noted = AccessLog.objects.order_by("user__name", "squad__name").values_list(
        "user__name", "squad__name", "page"
    )
    assert list(noted) == [
        ("Carl Coach", "Badgers", "api attendance"),
        ("Carl Coach", "Otters", "api attendance"),
        ("Dora Director", "Badgers", "attendance file"),
        ("Dora Director", "Otters", "attendance file"),
        ("Hedy Helper", "Badgers", "attendance"),
        ("Hedy Helper", "Otters", "attendance"),
    ]


@pytest.mark.parametrize(
    ("who", "status"),
    [
        ("director", 200),
        ("coach", 403),
        ("helper", 403),
        ("reader", 403),
        ("colleague", 404),
        ("administrator", 404),
    ],
)
@pytest.mark.parametrize("asked", ["format", "accept"])
def test_the_file_is_the_directors(world: World, three: list[Any], who: str, status: int, asked: str) -> None:
    client = signed_in(getattr(world.people, who))
    query = {"squad": str(world.own.squad.public_id), **({"format": "csv"} if asked == "format" else {})}
    headers = {"accept": "text/csv"} if asked == "accept" else {}
    response = client.get(API, query, headers=headers)
    assert response.status_code == status
    if status == 200:
        assert rows_of(response)[0][:3] == ["Player", "Number", "Team"]
        assert response["Content-Disposition"].startswith('attachment; filename="attendance-otters-')
    else:
        assert response["Content-Type"] == "application/problem+json"
        assert "Ottilie" not in response.content.decode()
        assert AccessLog.objects.count() == 0


def test_a_name_that_reads_as_a_formula_stays_a_name_in_the_file(world: World, players: list[Any]) -> None:
    sly = player_in(squad=world.own.squad, display_name="=SUM(A1:A9)")
    held(world, world.own, 1, {sly: "arrived"})
    assert "'=SUM(A1:A9)" in {row[0] for row in rows_of(api(world.people.director, world, format="csv"))}


def test_an_erased_player_has_no_line_and_still_counts(
    world: World, players: list[Any], three: list[Any]
) -> None:
    club.erase_player(player=players[0])
    shown = page(world.people.director, world)
    text = shown.content.decode()
    assert "Ada B" not in text
    assert "Former player" not in text
    assert str(players[0].public_id) not in text
    assert words(shown, "tr")[-1] == "Came 3 of 4 3 of 4 + 1 guest no register 1 of 4 so far"
    assert "names were deleted still count" in text
    sent = api(world.people.director, world).content.decode()
    file = api(world.people.director, world, format="csv").content.decode()
    for each in (sent, file):
        assert "Former player" not in each
        assert str(players[0].public_id) not in each


def test_no_ability_no_limits_and_no_reasons(world: World, players: list[Any]) -> None:
    session = held(world, world.own, 0, {players[0]: "arrived"}, done=False)
    session.register.update(limits=["no_contact"])
    for text in (
        page(world.people.director, world).content.decode(),
        api(world.people.director, world).content.decode(),
        api(world.people.director, world, format="csv").content.decode(),
    ):
        assert "contact" not in text
        assert "effort" not in text
        assert "cr10" not in text


def test_earlier_weeks_are_reached_and_nothing_is_shown_twice(world: World) -> None:
    longer = player_in(squad=world.own.squad, since=today() - timedelta(days=100))
    at = [held(world, world.own, days, {longer: "arrived"}) for days in range(0, 84, 7)]
    latest = page(world.people.coach, world)
    assert latest.context["page"].later == ""
    assert latest.context["page"].earlier
    earlier = page(world.people.coach, world, f"?week={latest.context['page'].earlier}")
    again = page(world.people.coach, world, f"?week={earlier.context['page'].later}")
    ids = [
        [each.session.public_id for each in shown.context["page"].attendance.columns]
        for shown in (latest, earlier)
    ]
    assert ids[1] + ids[0] == [each.public_id for each in reversed(at)]
    assert [len(each) for each in ids] == [8, 4]
    assert again.context["page"] == latest.context["page"]
    assert page(world.people.coach, world, "?week=1999-W01").status_code == 200


def test_sessions_to_come_and_cancelled_ones_are_not_held(world: World, players: list[Any]) -> None:
    off = held(world, world.own, 2, {players[0]: "absent"}, done=False)
    type(off).objects.filter(pk=off.pk).update(state="cancelled", why_cancelled="weather")
    held(world, world.own, -3, {players[0]: "absent"}, done=False)
    assert (
        api(world.people.director, world, to=(today() + timedelta(days=9)).isoformat()).json()["count"] == 0
    )


def test_the_list_of_teams_tells_what_one_may_see(world: World, three: list[Any]) -> None:
    def rows(person: Any) -> list[str]:
        return words(signed_in(person).get("/sessions/attendance/"), "tr")[1:]

    last = f"{today():%a} {today().day} {today():%b}"
    assert rows(world.people.coach) == [f"U12 Otters 2 3 of 4 {last}: 1 of 4 so far"]
    assert [each.split()[1] for each in rows(world.people.reader)] == ["Badgers", "Otters", "Foxes"]
    assert rows(world.people.colleague) == ["U9 Badgers 0 – no register yet"]
    assert rows(world.people.administrator) == []


@pytest.mark.parametrize(
    ("query", "pointer"),
    [
        ({"squad": ""}, "/squad"),
        ({"squad": "otters"}, "/squad"),
        ({"from": "yesterday"}, "/from"),
        ({"to": "2026-02-30"}, "/to"),
        ({"from": "2026-03-09", "to": "2026-03-08"}, "/from"),
        ({"from": "2024-01-01", "to": "2026-03-08"}, "/from"),
    ],
)
def test_what_cant_be_read_is_said_beside_its_parameter(
    world: World, query: dict[str, str], pointer: str
) -> None:
    refused = api(world.people.director, world, **query)
    assert (refused.status_code, refused["Content-Type"]) == (400, "application/problem+json")
    assert [each["pointer"] for each in refused.json()["errors"]] == [pointer]


def test_pages_of_sessions_keep_their_marks(world: World, three: list[Any]) -> None:
    director = world.people.director
    whole = api(director, world).json()
    one = [api(director, world, page=n, page_size=1).json() for n in (1, 2, 3, 4)]
    assert [each["results"][0] for each in one] == whole["results"]
    assert all(each["players"] == whole["players"] and each["count"] == 4 for each in one)
    assert api(director, world, page=9).status_code == 404


def test_a_session_that_is_marked_as_done_before_its_day_is_held(world: World, players: list[Any]) -> None:
    held(world, world.own, -2, {players[0]: "arrived"})
    assert words(page(world.people.coach, world), "tr")[1].startswith("Ada B Here 1 of 1")
    assert page(world.people.reader, world).status_code == 200


def test_eight_weeks_end_with_their_day() -> None:
    """Both ends counted: what ends on a Sunday begins on a Monday."""
    sunday = date(2026, 3, 29)
    assert weeks_back(sunday) == date(2026, 2, 2)
    assert weeks_back(sunday, 1) == date(2026, 3, 23)


def test_of_no_sessions_nothing_is_asked(django_assert_num_queries: Any) -> None:
    with django_assert_num_queries(0):
        assert attendance_of([]) == {}
