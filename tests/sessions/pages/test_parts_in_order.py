"""Where a drill goes in the editor of parts, and what stays in place when parts are moved."""

from dataclasses import replace
from typing import Any

import pytest

from club import queries as club
from sessions import actions
from sessions.choices import PartKind
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in
from tests.sessions.pages.test_parts_editor import saved, send, typed


@pytest.fixture
def drill(world: World) -> Any:
    return shared_drill(owner=world.people.coach)


@pytest.fixture
def session(world: World, drill: Any) -> Any:
    """Arrival, practice, game; nothing before the first, 2 min, 90 s."""
    parts = [
        replace(part_input(title="Come in", changeover_s=0), kind=PartKind.ARRIVAL),
        part_input(drill=drill, changeover_s=120),
        replace(part_input(title="Match", changeover_s=90), kind=PartKind.GAME),
    ]
    return planned_session(place=world.own, by=world.people.coach, parts=parts)


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


def lines(response: Any, *names: str) -> list[tuple[str, ...]]:
    return [tuple(form[name].value() for name in names) for form, _drill in response.context["lines"]]


@pytest.mark.parametrize("do", ["move:2:0", "up:2"])
def test_a_game_that_is_moved_leaves_every_changeover_where_it_was(coach: Any, session: Any, do: str) -> None:
    found = lines(send(coach, session, typed(session, do)), "title", "kind", "changeover")
    assert [changeover for _title, _kind, changeover in found] == ["0:00", "2:00", "1:30"]
    assert ("Match", "game") in [each[:2] for each in found]
    assert [kind for _title, kind, _s in found if kind != "game"] == ["arrival", "practice"]


def test_the_first_part_taken_out_leaves_none_to_change_over_into(coach: Any, session: Any) -> None:
    found = lines(send(coach, session, typed(session, "remove:0")), "title", "kind", "changeover")
    assert found == [("", "practice", "0:00"), ("Match", "game", "1:30")]


def test_a_drill_goes_before_the_part_that_is_pointed_at(coach: Any, session: Any, drill: Any) -> None:
    data = {**typed(session, f"take:{drill.public_id}"), "where": "before:2"}
    response = send(coach, session, data)
    usual = f"{club.club_settings().changeover_s // 60}:{club.club_settings().changeover_s % 60:02}"
    assert lines(response, "title", "changeover") == [
        ("Come in", "0:00"), ("", "2:00"), ("", usual), ("Match", "1:30")
    ]  # fmt: skip
    assert lines(response, "drill")[2] == (str(drill.public_id),)
    assert (response.context["editor"].changed, response.context["editor"].where) == (2, "")
    first = {**typed(session, f"take:{drill.public_id}"), "where": "before:0"}
    assert lines(send(coach, session, first), "title", "changeover")[:2] == [("", "0:00"), ("Come in", usual)]
    empty = send(coach, session, {**typed(session, "blank"), "where": "before:1"})
    assert lines(empty, "title", "drill")[1] == ("", "")


def test_a_drill_goes_into_the_part_that_is_pointed_at_also_where_another_waits(
    coach: Any, session: Any, drill: Any
) -> None:
    data = typed(session, f"take:{drill.public_id}", p0_title="", p2_title="", p2_minutes="21")
    assert lines(send(coach, session, data), "drill")[0] == (str(drill.public_id),)
    pointed = send(coach, session, {**data, "where": "into:2"})
    assert lines(pointed, "drill", "minutes", "kind", "changeover")[2] == (
        str(drill.public_id), "21", "game", "1:30"
    )  # fmt: skip
    assert lines(pointed, "drill")[0] == ("",)
    at_the_end = send(coach, session, {**data, "where": "end"})
    assert len(lines(at_the_end, "drill")) == 4


def test_a_second_drill_at_the_same_time_is_counted_saved_and_taken_out_again(
    world: World, coach: Any, session: Any, drill: Any
) -> None:
    heading = shared_drill(
        owner=world.people.coach, title="Heads Up", heading="planned", headers_per_player=6
    )
    put = send(coach, session, {**typed(session, f"take:{heading.public_id}"), "where": "into:1"})
    also = f"{heading.public_id}:"
    assert (len(lines(put, "also")), lines(put, "also")[1]) == (3, (also,))
    assert put.context["tally"].headers == 6
    assert [each.title for each in put.context["beside"][1]] == ["Heads Up"]
    gone = send(coach, session, typed(session, "alone:1:0", p1_also=also))
    assert (lines(gone, "also")[1], gone.context["tally"].headers) == (("",), 0)
    assert [each.stations.count() for each in saved(session)] == [0, 1, 0]

    assert send(coach, session, typed(session, p1_also=also)).status_code == 302
    stations = [each.drill_id for each in actions.parts_as_input(fresh(session))[1].stations]
    assert stations == [drill.public_id, heading.public_id]
    [kept] = send(coach, session, typed(fresh(session), "look")).context["beside"][1]
    assert (kept.title, kept.number) == ("Heads Up", None)


def fresh(session: Any) -> Any:
    session.refresh_from_db()
    return session


def test_a_second_drill_that_is_not_in_the_library_is_refused_in_words(coach: Any, session: Any) -> None:
    nobody = "00000000-0000-4000-8000-000000000000:"
    response = send(coach, session, typed(session, p1_also=nobody))
    assert "This drill is not in the library (any more)." in response.content.decode()
    assert [each.stations.count() for each in saved(session)] == [0, 1, 0]
    assert send(coach, session, typed(session, "look", p1_also="nonsense x:y")).context["beside"][1] == []


def test_the_page_offers_every_place_and_points_at_a_part_without_a_drill(
    coach: Any, session: Any, drill: Any
) -> None:
    where = send(coach, session, typed(session, "look")).context["where"]
    assert [value for value, _words in where.alone] == ["before:0", "before:1", "before:2", "end"]
    assert dict(where.into)["into:1"] == "2. Lantern Gates, a second drill at the same time"
    assert where.as_usual == "at the end"
    pointed = send(coach, session, typed(session, "where:into:2", p2_title=""))
    assert pointed.context["where"].as_usual == "the first part without a drill"
    assert '<option value="into:2" selected>3. Game, no drill yet</option>' in pointed.content.decode()
    kept = send(coach, session, {**typed(session, "look"), "where": "before:1"})
    assert kept.context["editor"].where == "before:1"


@pytest.mark.parametrize("where", ["before:9", "into:x", "into:9", "?"])
def test_a_place_that_is_not_there_is_as_usual(coach: Any, session: Any, drill: Any, where: str) -> None:
    response = send(coach, session, {**typed(session, f"take:{drill.public_id}"), "where": where})
    assert lines(response, "drill")[-1] == (str(drill.public_id),)
    assert len(actions.parts_as_input(session)) == 3
