"""Letters that turn text round are refused where names are typed; names that run from right to left are not."""

from collections.abc import Callable
from typing import Any

import pytest

from club import actions, queries
from club.actor import Actor
from club.choices import Role
from club.errors import Refused
from club.letters import TURNING, is_plain_line, isolated, turns_round
from club.models import Player, Squad, User
from drills.validators import to_document
from tests.drills.samples import SMALL
from tests.people import World, signed_in

HEBREW, ARABIC = "אבי", "ليلى"
HIDDEN = sorted(TURNING | {"\x00", "\x07", "\x1b", "\n", "\x85", "\u2028", "\u2029"})


def test_what_can_stand_in_a_line() -> None:
    for name in ("Ada", "Zoë O’Hara-Łuk", HEBREW, ARABIC, "李", "नीला", f"{HEBREW}\u200f 7", "a\u200db"):
        assert (is_plain_line(name), turns_round(name)) == (True, False), name
    assert {each: is_plain_line(f"A{each}da") for each in HIDDEN} == dict.fromkeys(HIDDEN, False)
    assert {each for each in HIDDEN if turns_round(f"A{each}da")} == TURNING


def test_only_what_runs_from_right_to_left_is_isolated() -> None:
    assert [isolated(each) for each in ("", "Ada 7", "Zoë", "李")] == ["", "Ada 7", "Zoë", "李"]
    assert [isolated(each) for each in (HEBREW, f"U12 {ARABIC}")] == [
        f"\u2068{HEBREW}\u2069",
        f"\u2068U12 {ARABIC}\u2069",
    ]


NAMING: dict[str, Callable[[World, str], Any]] = {
    "player": lambda world, name: actions.add_player(squad=world.own.squad, display_name=name),
    "player changed": lambda world, name: actions.change_player(
        player=world.own.player,
        squad=world.own.squad,
        version=1,
        display_name=name,
        shirt=None,
        is_keeper=False,
    ),
    "squad": lambda world, name: actions.add_squad(name=name, age_group=world.own.age_group),
    "account": lambda world, name: actions.add_user(email="n@ashmere.example", name=name),
    "own account": lambda world, name: actions.save_own_account(
        user=world.people.coach, name=name, pace_m=None
    ),
    "club": lambda world, name: actions.save_settings(version=1, name=name),
    "pitch": lambda world, name: actions.add_pitch(
        zones=[{"name": "whole", "length_m": 60, "width_m": 40}], name=name
    ),
    "zone": lambda world, name: actions.add_pitch(
        zones=[{"name": name, "length_m": 60, "width_m": 40}], name="Top"
    ),
    "kit": lambda world, name: actions.add_stock(kind=name, count=3),
    "theme": lambda world, name: actions.add_theme(title=f"press {name}", moment="winning it"),
    "drill": lambda world, name: to_document({**SMALL, "title": name}),
    "session": lambda world, name: _session(world, title=name),
    "note": lambda world, name: _session(world, note=name),
    "part": lambda world, name: _session(world, part=name),
    "template": lambda world, name: _template(world, name),
}


def _session(world: World, *, part: str = "", **words: str) -> Any:
    from tests.factories_sessions import part_input, planned_session

    parts = [part_input(title=part)] if part else []
    return planned_session(place=world.own, by=world.people.director, parts=parts, **words)


def _template(world: World, name: str) -> Any:
    from sessions import actions as sessions

    director: Actor = queries.actor_of(world.people.director)
    return sessions.keep_order(actor=director, session=_session(world, part="Gates"), name=name)


@pytest.mark.django_db
@pytest.mark.parametrize("what", NAMING)
def test_a_name_that_turns_text_round_is_refused_and_one_from_right_to_left_is_not(
    what: str, world: World
) -> None:
    for hidden in ("\u202e", "\u2067"):
        with pytest.raises(Refused) as refused:
            NAMING[what](world, f"Ada{hidden}7 x")
        assert "that nobody sees" in str(refused.value) or "cannot be saved" in str(refused.value)
    NAMING[what](world, HEBREW)


@pytest.mark.django_db
def test_the_words_stand_beside_the_field_and_nothing_is_lost(world: World) -> None:
    coach = signed_in(world.people.coach)
    lines = "Ada\nBo\u202e 9"
    page = coach.post(f"/squads/{world.own.squad.public_id}/players/add/", {"lines": lines})
    assert page.context["form"].errors["lines"] == [
        "Line 2: This holds a letter that nobody sees and that turns the text beside it round or breaks the line."
    ]
    assert "Bo\u202e 9</textarea>" in page.content.decode()
    account = coach.post("/account/", {"name": "Carl\u202e"})
    assert list(account.context["form"].errors) == ["name"]
    assert (Player.objects.count(), Squad.objects.count()) == (3, 3)
    assert User.objects.get(pk=world.people.coach.pk).name == "Carl Coach"


@pytest.mark.django_db
def test_an_invited_person_s_name_is_held_to_the_same(world: World) -> None:
    path = actions.invite(email="n@ashmere.example", role=Role.READER, age_group=None, made_by_id=None)
    typed = {"name": "Nell\u202e", "password": "plain words in a row", "again": "plain words in a row"}
    page = signed_in(None).post(path, typed)
    assert list(page.context["form"].errors) == ["name"]
    assert User.objects.filter(email="n@ashmere.example").count() == 0


@pytest.mark.django_db
def test_a_phone_s_events_are_held_to_the_same(world: World) -> None:
    from uuid import uuid4

    session = _session(world)
    address = f"/api/v1/sessions/{session.public_id}/events/"
    event = {"id": str(uuid4()), "kind": "note", "at": "2026-11-29T18:00:00Z", "text": "Ada\u202e"}
    answer = signed_in(world.people.coach).post(address, [event], content_type="application/json")
    assert answer.json()["results"][0]["outcome"] == "refused"
