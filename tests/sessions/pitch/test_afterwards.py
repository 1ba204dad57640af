"""What is said once a session is over: one value on the phone, the session's page, the API, the drill's page and Today."""

import uuid
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from club import queries as club
from sessions import queries
from sessions.models import Station, TrainingSession
from sessions.pages.happened import what_happened
from sessions.queries.pitch import happened
from tests.factories_sessions import planned_session
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening, put_drills
from tests.sessions.pitch.test_page import data_of

pytestmark = pytest.mark.django_db


def api(evening: Evening, person: Any, session: Any = None) -> dict[str, Any]:
    return signed_in(person).get(f"/api/v1/sessions/{(session or evening.session).public_id}/").json()


def page(evening: Evening, person: Any) -> str:
    return signed_in(person).get(f"/sessions/{evening.session.public_id}/").content.decode()


def apart(evening: Evening) -> str:
    """The coach's phone says that a player is here, the helper's, which did not know of it, that the child is not."""
    player = evening.players[0]
    evening.append(evening.event("arrived", 2, player=player), device="coach's")
    helper = club.actor_of(evening.people.helper)
    evening.append(evening.event("absent", 10, player=player), actor=helper, device="helper's")
    return player


def test_a_phone_is_told_from_which_phone_and_by_whom_the_register_was_tapped(evening: Evening) -> None:
    player = apart(evening)
    evening.append(evening.event("effort", 60, cr10=5))
    told = happened(evening.read()).events
    people = evening.people
    assert [(each["kind"], each.get("device"), each.get("by")) for each in told] == [
        ("arrived", "coach's", people.coach.name),
        ("absent", "helper's", people.helper.name),
        ("effort", None, None),  # nobody asks whose it is
    ]
    assert told[0]["player"] == player
    shown = data_of(signed_in(people.coach).get(f"/sessions/{evening.session.public_id}/pitch/"))
    assert shown["events"] == told


def test_both_words_stand_on_page_and_api_until_the_register_is_confirmed(
    evening: Evening, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    player, people = apart(evening), evening.people
    evening.append(evening.event("delivered", 61))
    done = what_happened(
        queries.session_view(queries.session_by_id(evening.session.public_id)), with_names=True
    )
    assert done is not None
    (line,) = [each for each in done.players if each.apart]
    assert (line.id, [(each.state, each.by, each.counts) for each in line.apart]) == (
        player,
        [("here", people.coach.name, False), ("absent", people.helper.name, True)],
    )
    text = page(evening, people.coach)
    assert (
        f"{people.coach.name}&#x27;s phone: here at 18:02. {people.helper.name}&#x27;s phone: not here at 18:10. "
        "Counts: not here." in text
    )
    told = next(each for each in api(evening, people.coach)["happened"]["players"] if each["id"] == player)
    assert [(each["state"], each["by"], each["counts"]) for each in told["apart"]] == [
        ("here", people.coach.name, False),
        ("absent", people.helper.name, True),
    ]
    assert done.came == 0  # the merged line counts, here as in the ledger
    assert "phone: here" not in page(evening, people.reader)  # no names for who may not see them
    evening.append(evening.event("confirmed", 62, taps=2))
    text = page(evening, people.coach)
    assert "Register confirmed 19:02." in text
    assert "Counts:" not in text
    assert api(evening, people.coach)["happened"]["register_confirmed_at"].startswith(
        f"{evening.session.day.isoformat()}T"
    )


def test_whose_phone_it_was_is_one_query_more_where_phones_said_otherwise_only(
    evening: Evening, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    evening.append(evening.event("arrived", 2, player=evening.players[0]), evening.event("delivered", 61))

    def counted(queries_asked: int) -> None:
        view = queries.session_view(queries.session_by_id(evening.session.public_id))
        with django_assert_num_queries(queries_asked):
            what_happened(view, with_names=True)

    counted(3)
    helper = club.actor_of(evening.people.helper)
    evening.append(evening.event("absent", 10, player=evening.players[0]), actor=helper, device="another")
    counted(4)


def test_a_phone_that_has_no_name_left_is_another_phone(evening: Evening) -> None:
    apart(evening)
    evening.append(evening.event("delivered", 61))
    type(evening.people.helper).objects.filter(pk=evening.people.helper.pk).update(name="")
    assert "Another phone: not here at 18:10." in page(evening, evening.people.coach)


@pytest.mark.parametrize(
    ("body", "text"),
    [
        ({"kind": "again", "part": "PART", "answer": "maybe"}, "again: not one of the choices: 'maybe' (field `answer`)"),
        ({"kind": "again", "answer": "yes"}, "again: missing: `part`"),
        ({"kind": "again", "part": str(uuid.uuid4()), "answer": "yes"}, "This part is not in this session."),
        ({"kind": "next_time", "text": "x" * 201}, "next time: too long; characters at most: 200 (field `text`)"),
        ({"kind": "next_time", "text": ""}, "next time: empty (field `text`)"),
        ({"kind": "confirmed", "taps": -1}, "confirmed: too few; at least 0 (field `taps`)"),
        ({"kind": "confirmed", "by": "x"}, "confirmed: not known here: `by`"),
        ({"kind": "arrived", "player": "PLAYER", "over": ["x"] * 21}, "arrived: "),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_is_refused_in_words(evening: Evening, body: dict[str, Any], text: str) -> None:
    named = {"PART": evening.parts[0], "PLAYER": evening.players[0]}
    event = {**evening.event("x"), **{name: named.get(value, value) if isinstance(value, str) else value for name, value in body.items()}}  # fmt: skip
    (outcome,) = evening.append(event)
    assert outcome.outcome == "refused"
    assert outcome.text.startswith(text)


def test_again_is_one_value_on_page_api_and_the_drills_page(evening: Evening) -> None:
    put_drills(evening, "bite-back", "wide-open")
    first, second = (str(each.public_id) for each in evening.read().parts.order_by("position"))
    people = evening.people
    drill = Station.objects.get(part__public_id=first).revision.drill
    evening.append(
        evening.event("part_started", 0, part=first),
        evening.event("again", 61, part=first, answer="no"),
        evening.event("again", 62, part=first, answer="change"),
        evening.event("again", 62, part=second, answer="yes"),
        evening.event("delivered", 63),
    )
    done = api(evening, people.coach)["happened"]
    assert [each["again"] for each in done["parts"]] == ["change", "yes"]
    assert "Again? <b>change it</b>." in page(evening, people.coach)
    client = signed_in(people.director)
    counts = client.get(f"/api/v1/drills/{drill.public_id}/").json()["times_run"]
    assert (counts["again"], counts["again_changed"], counts["not_again"]) == (0, 1, 0)
    assert (
        "Again? 1 × change it" in client.get(reverse("drills:drill", args=[drill.public_id])).content.decode()
    )
    # Another drill was played in its place: that one was meant.
    other = Station.objects.get(part__public_id=second).revision.drill
    swap = evening.event("part_swapped", 5, part=first, drill=str(other.public_id), revision=1)
    assert evening.append(swap, actor=club.actor_of(people.director))[0].outcome == "taken"
    counts = client.get(f"/api/v1/drills/{drill.public_id}/").json()["times_run"]
    assert counts["again_changed"] == 0


def test_a_line_for_next_time_stands_on_the_very_next_session_of_the_team(
    world: Any, evening: Evening
) -> None:
    line = "Start with the wide grid."
    evening.append(evening.event("next_time", 61, text=line), evening.event("delivered", 62))
    following, later = (
        planned_session(
            place=world.own, by=world.people.coach, day=evening.session.day + timedelta(days=days)
        )
        for days in (2, 4)
    )
    client = signed_in(world.people.coach)
    shown = client.get(f"/sessions/{following.public_id}/").content.decode()
    assert "From last time:" in shown
    assert line in shown
    assert line not in client.get(f"/sessions/{later.public_id}/").content.decode()
    assert api(evening, world.people.coach)["happened"]["next_time"] == line
    assert f"For next time:</b> {line}" in page(evening, world.people.coach)
    with time_machine.travel(evening.starts + timedelta(days=1), tick=False):
        home = signed_in(world.people.coach).get("/").content.decode()
    assert home.index("From last time:") < home.index(line)


HOURS = [(-1, False), (0.5, False), (1.25, True), (5, True), (16.5, True), (17.5, False)]


@pytest.mark.parametrize(("hour", "asks"), HOURS)
def test_today_asks_how_it_went_that_night_and_the_next_morning(
    evening: Evening, hour: float, asks: bool
) -> None:
    """From its end, after an hour, for sixteen hours, whichever day or week it is then."""
    with time_machine.travel(evening.starts + timedelta(hours=hour), tick=False):
        home = signed_in(evening.people.coach).get("/").content.decode()
        assert ("How did it go?" in home) is asks
        assert ("Run it" in home) is (hour <= 1)


@pytest.mark.parametrize(
    ("events", "asks"),
    [
        ([], True),
        ([("effort", {"cr10": 5})], True),
        ([("delivered", {})], True),
        ([("delivered", {}), ("effort", {"cr10": 5})], False),
        ([("shortened", {"minutes": 20}), ("effort", {"cr10": 0})], False),
        ([("cancelled", {"reason": "weather"})], False),
    ],
)
def test_today_asks_until_it_is_recorded(evening: Evening, events: list[Any], asks: bool) -> None:
    with time_machine.travel(evening.starts + timedelta(minutes=90), tick=False):
        evening.append(*(evening.event(kind, 70, **body) for kind, body in events))
        for person in (evening.people.coach, evening.people.helper):
            home = signed_in(person).get("/").content.decode()
            assert (f"/sessions/{evening.session.public_id}/pitch/#after" in home) is asks
        assert "How did it go?" not in signed_in(evening.people.colleague).get("/").content.decode()


def test_the_sessions_own_page_asks_too(evening: Evening) -> None:
    for minutes, asks in ((30, False), (90, True)):
        with time_machine.travel(evening.starts + timedelta(minutes=minutes), tick=False):
            assert ("How did it go?" in page(evening, evening.people.coach)) is asks


def test_the_last_night_of_a_week_is_asked_for_on_monday_morning(world: Any) -> None:
    sunday = club.today() + timedelta(days=7 - club.today().isoweekday())
    session = planned_session(place=world.own, by=world.people.coach, day=sunday)
    with time_machine.travel(session.period.upper + timedelta(hours=12), tick=False):
        home = signed_in(world.people.coach).get("/").content.decode()
    assert f"/sessions/{session.public_id}/pitch/#after" in home
    assert TrainingSession.objects.count() == 1


@pytest.mark.parametrize("hour", [-1, 1.5])
def test_today_asks_as_few_queries_before_a_session_as_after_it(evening: Evening, hour: float) -> None:
    with time_machine.travel(evening.starts + timedelta(hours=hour), tick=False):
        client = signed_in(evening.people.coach)
        with CaptureQueriesContext(connection) as asked:
            client.get("/")
    assert len(asked) == 11, [each["sql"][:100] for each in asked]
