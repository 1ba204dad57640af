"""The editor of parts: every button sends the whole form, nothing typed is lost, only “save” writes."""

from typing import Any

import pytest
from django.urls import reverse

from club.choices import Rule
from club.queries import actor_of
from sessions import actions, queries
from sessions.forms import rows_of
from tests.factories import GuidelineFactory
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.people import World, signed_in


@pytest.fixture
def drill(world: World) -> Any:
    return shared_drill(owner=world.people.coach)


@pytest.fixture
def session(world: World, drill: Any) -> Any:
    parts = [part_input(title="Begin", minutes=10, bouts=1, bout_s=600), part_input(drill=drill)]
    return planned_session(place=world.own, by=world.people.coach, parts=parts)


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


def typed(session: Any, do: str = "save", **changes: Any) -> dict[str, Any]:
    """The form as the page shows it, with some fields typed over: `p1_minutes="20"`."""
    rows = rows_of(actions.parts_as_input(session))
    data: dict[str, Any] = {"rows": len(rows), "version": session.version, "loaded": "as loaded", "do": do}
    for index, row in enumerate(rows):
        data |= {f"p{index}-{name}": text for name, text in row.items()}
    return data | {name.replace("_", "-", 1): value for name, value in changes.items()}


def send(coach: Any, session: Any, data: dict[str, Any]) -> Any:
    return coach.post(reverse("sessions:parts", args=[session.public_id]), data)


def saved(session: Any) -> list[Any]:
    return list(queries.session_by_id(session.public_id).parts.all())


def order(response: Any) -> list[str]:
    return [form["title"].value() for form, _drill in response.context["lines"]]


def test_minutes_bouts_rest_effort_and_rung_are_saved(coach: Any, session: Any) -> None:
    data = typed(
        session,
        p1_minutes="20",
        p1_bouts="5",
        p1_bout="3:30",
        p1_rest="45 s",
        p1_effort="6,5",
        p1_rung="eight",
    )
    assert send(coach, session, data).status_code == 302
    part = saved(session)[1]
    assert (part.minutes, part.bouts, part.bout_s, part.rest_s, float(part.effort)) == (20, 5, 210, 45, 6.5)
    assert part.stations.get().variation_key == "eight"


def test_an_empty_bout_shares_the_minutes_out(coach: Any, session: Any) -> None:
    send(coach, session, typed(session, p1_minutes="20", p1_bouts="4", p1_bout="", p1_rest="1"))
    assert saved(session)[1].bout_s == 240  # (20 min − 3 × 1 min) ÷ 4 is 4:15: half minutes, rounded down


@pytest.mark.parametrize(
    ("changes", "index", "field", "words"),
    [
        ({"p1_minutes": "twenty"}, 1, "minutes", "A whole number, please: 12."),
        ({"p1_minutes": "500"}, 1, "minutes", "From 1 to 120 minutes."),
        ({"p0_bouts": "0"}, 0, "bouts", "From 1 to 40 rounds."),
        ({"p1_rest": "a bit"}, 1, "rest", "“a bit” is no length of time: write 3, 3:30 or 45 s."),
        ({"p1_effort": "12"}, 1, "effort", "Effort goes from 0 (rest) to 10 (maximal)."),
        ({"p1_rung": "gone"}, 1, "rung", "The drill has no such variation (any more)."),
    ],
)
def test_what_is_wrong_stands_beside_the_field_and_nothing_is_lost(
    coach: Any, session: Any, changes: dict[str, str], index: int, field: str, words: str
) -> None:
    response = send(coach, session, typed(session, p0_title="Typed for long", **changes))
    forms = [form for form, _drill in response.context["lines"]]
    assert forms[index].errors[field] == [words]
    assert order(response)[0] == "Typed for long"
    assert [each.title for each in saved(session)] == ["Begin", ""]


def test_buttons_move_and_take_out_without_saving(coach: Any, session: Any) -> None:
    down = send(coach, session, typed(session, "down:0", p0_title="First", p1_title="Second", p1_minutes="x"))
    assert order(down) == ["Second", "First"]
    assert down.context["lines"][0][0]["minutes"].value() == "x"
    assert order(send(coach, session, typed(session, "remove:0", p1_title="Second"))) == ["Second"]
    assert order(send(coach, session, typed(session, "up:0", p0_title="First"))) == ["First", ""]
    moved = typed(session, "move:1:0", p0_title="First", p1_title="Second")
    assert order(send(coach, session, moved)) == ["Second", "First"]
    assert len(saved(session)) == 2


def test_a_drill_from_the_library_comes_with_its_own_work(coach: Any, session: Any, drill: Any) -> None:
    response = send(coach, session, typed(session, f"take:{drill.public_id}:wide"))
    form, shown = response.context["lines"][2]
    assert (form["minutes"].value(), form["bouts"].value(), form["rung"].value()) == ("15", "4", "wide")
    assert form["effort"].value() == "4"  # the rung's own
    assert shown.title == "Lantern Gates"


def test_drills_for_other_ages_are_counted_and_shown_when_asked_for(
    world: World, coach: Any, session: Any, drill: Any
) -> None:
    shared_drill(owner=world.people.coach, title="Senior Lamps", under_from=18, under_to=None)
    plain = send(coach, session, typed(session, "look"))
    assert plain.context["of_other_ages"] == 1
    assert "Senior Lamps" not in {each.title for each in plain.context["picks"]}
    wide = send(coach, session, {**typed(session, "look"), "any_age": "on"})
    assert "Senior Lamps" in {each.title for each in wide.context["picks"]}


def test_a_drill_fills_a_part_that_waits_for_one_and_keeps_its_minutes(
    coach: Any, session: Any, drill: Any
) -> None:
    response = send(coach, session, typed(session, f"take:{drill.public_id}", p0_title="", p0_minutes="11"))
    forms = [form for form, _drill in response.context["lines"]]
    assert [form["minutes"].value() for form in forms] == ["11", "18"]
    assert (forms[0]["drill"].value(), forms[0]["bouts"].value()) == (str(drill.public_id), "3")


@pytest.mark.parametrize(
    "do",
    [
        "take:nonsense",
        "take:00000000-0000-4000-8000-000000000000",
        "up:9",
        "remove:x",
        "move:1",
        "move:9:0",
        "?",
    ],
)
def test_buttons_that_do_not_exist_change_nothing(coach: Any, session: Any, do: str) -> None:
    response = send(coach, session, typed(session, do))
    assert (response.status_code, len(response.context["lines"])) == (200, 2)


def test_the_minutes_are_counted_against_the_session(coach: Any, session: Any) -> None:
    tally = send(coach, session, typed(session, "look", p1_minutes="70")).context["tally"]
    # 10 + 70 min, two changeovers of 2 min, 5 min of clearing, against 75
    assert (tally.used, tally.minutes, tally.spare) == (89, 75, -14)
    assert tally.reasons[1][0].code == "session_over_minutes"


def test_what_stands_against_a_part_is_said_as_it_is_typed(
    world: World, coach: Any, session: Any, django_assert_num_queries: Any
) -> None:
    GuidelineFactory(rule=Rule.HEADERS_PER_SESSION, value=5, under_low=12, under_high=12)
    GuidelineFactory(rule=Rule.LEAST_ADULTS, value=2, under_low=12, under_high=12)
    heading = shared_drill(
        owner=world.people.coach, title="Heads Up", heading="planned", headers_per_player=6
    )
    data = typed(session, "count", p1_drill=str(heading.public_id), p1_rung="", p1_effort="9")
    with django_assert_num_queries(
        13
    ):  # two for the drill that is not saved yet, two for what the squad has headed
        response = send(coach, session, data)
    tally = response.context["tally"]
    assert {"headers_over", "effort_over", "kit_unknown"} <= {each.code for each in tally.reasons[1]}
    assert (tally.headers, "adults_short" in {each.code for each in tally.reasons[-1]}) == (6, True)
    page = response.content.decode()
    assert ('id="p1-says" hx-swap-oob' in page, "<html" in page) == (True, False)
    assert [each.title for each in saved(session)] == ["Begin", ""]
    same = queries.session_view(queries.session_by_id(session.public_id))
    shown = send(coach, session, typed(session, "count")).context["tally"].reasons
    for index, part in enumerate(same.parts):
        assert [each.text for each in shown.get(index, [])] == [each.text for each in part.reasons]


def test_a_set_up_and_further_stations_outlive_the_editor(
    world: World, coach: Any, session: Any, drill: Any
) -> None:
    two = part_input(drill=drill)
    two = type(two)(**{**two.__dict__, "stations": (two.stations[0], two.stations[0])})
    actions.save_parts(
        actor=actor_of(world.people.coach), session=session, version=session.version, parts=[two]
    )
    session = queries.session_by_id(session.public_id)
    before = [each.public_id for each in session.parts.all()[0].stations.all()]
    send(coach, session, typed(session, p0_minutes="25"))
    assert [each.public_id for each in saved(session)[0].stations.all()] == before


def test_a_stale_save_shows_both_and_saving_again_knows_better(coach: Any, session: Any) -> None:
    mine = typed(session, p0_title="Mine")
    send(coach, session, typed(session, p0_title="Theirs"))
    response = send(coach, session, mine)
    assert response.status_code == 409
    text = response.content.decode()
    assert ("Mine: 10 min" in text, "Theirs: 10 min" in text, "as loaded" in text) == (True, True, True)
    assert saved(session)[0].title == "Theirs"
    again = {**mine, "version": response.context["editor"].version}
    assert send(coach, session, again).status_code == 302
    assert saved(session)[0].title == "Mine"


def test_the_library_is_searched_without_losing_what_was_typed(coach: Any, session: Any) -> None:
    found = send(coach, session, typed(session, "look", q="lantern", p0_title="Kept"))
    assert [each.title for each in found.context["picks"]] == ["Lantern Gates"]
    nothing = send(coach, session, typed(session, "look", q="zzzz", p0_title="Kept"))
    assert (nothing.context["picks"], order(nothing)[0]) == ([], "Kept")
