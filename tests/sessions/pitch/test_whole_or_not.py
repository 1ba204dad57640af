"""Every event is checked whole before it is stored: hostile bodies are refused one by one and hold nobody up."""

import itertools
import json
import uuid
from datetime import timedelta
from typing import Any

import msgspec
import pytest
from django.utils import timezone

from sessions import actions
from sessions.models import DeliveryEvent
from sessions.planning.fold import KINDS
from tests.people import signed_in
from tests.sessions.pitch.evening import Evening

HOSTILE: list[Any] = [
    None, True, False, 0, -1, 1.5, 1e308, -1e308, 10**30, "", " ", "x" * 70, "x" * 17_000, "\u0000", "\ud800", "\u202e", "NaN",
    "../../etc", "' OR 1=1 --", "<script>", [], [[]], [None], {}, {"a": {"b": {}}}, {"kept": 5}, {"kept": {"schema": 99}},
    {"numbers": "5v5", "kept": {"schema": 1, "setup": {}}}, [["x"] * 100], [[["x"]]], "2026-13-45", "00000000-0000-0000-0000-000000000000",
]  # fmt: skip
FIELDS = sorted({field.encode_name for body in KINDS.values() for field in msgspec.structs.fields(body)})


def plain(evening: Evening, kind: str) -> dict[str, Any]:
    """An event of a kind as a phone sends it."""
    values = {
        "player": evening.players[0], "part": evening.parts[0], "to": "", "cr10": 4, "text": "a", "minutes": 5,
        "reason": "pitch", "event": str(uuid.uuid4()), "teams": [[evening.players[0]]], "number": 3, "temperature_c": 31.5,
        "humidity_pct": 60, "count": 14, "setup": {"numbers": "5v5", "grids": 1}, "drill": str(uuid.uuid4()), "revision": 1,
        "answer": "yes",
    }  # fmt: skip
    wanted = {
        field.name: values[field.name] for field in msgspec.structs.fields(KINDS[kind]) if field.required
    }
    return {**evening.event(kind, 3), **wanted}


def test_hostile_bodies_are_refused_one_by_one_and_never_hold_the_rest_up(evening: Evening) -> None:
    client = signed_in(evening.people.coach)
    address = f"/api/v1/sessions/{evening.session.public_id}/events/"
    tried = 0
    for kind in [*KINDS, "unheard_of"]:
        base = plain(evening, kind) if kind in KINDS else evening.event(kind)
        bodies = [
            {**base, "id": str(uuid.uuid4()), field: value}
            for field, value in itertools.product([*FIELDS, "id", "kind", "at", "v", "skew_ms"], HOSTILE)
            if field in base or field in ("id", "kind", "at", "v", "skew_ms") or value in (None, "x" * 70, {})
        ]
        for start in range(0, len(bodies), 400):
            batch = bodies[start : start + 400]
            good = evening.event("note", 5, text="Well done.")
            text = json.dumps([*batch, good])  # a sender's own lone surrogate is escaped by json
            response = client.post(address, text, content_type="application/json")
            assert response.status_code == 200, (kind, response.content[:300])
            outcomes = response.json()["results"]
            assert len(outcomes) == len(batch) + 1
            assert outcomes[-1]["outcome"] == "taken"
            assert all(each["text"] for each in outcomes if each["outcome"] == "refused")
            tried += len(batch)
    assert tried >= 1440
    assert client.get(f"/sessions/{evening.session.public_id}/pitch/").status_code == 200
    assert client.get(f"/sessions/{evening.session.public_id}/").status_code == 200
    actions.rebuild(session=evening.read())


def test_what_never_was_this_sessions_is_refused_and_what_was_is_set_aside(evening: Evening) -> None:
    first, second = evening.parts
    session = evening.read()
    kept = [each for each in actions.parts_as_input(session) if str(each.public_id) == second]
    from club import queries as club

    actions.save_parts(
        actor=club.actor_of(evening.people.coach), session=session, version=session.version, parts=kept
    )
    stranger = str(uuid.uuid4())
    outcomes = evening.append(
        evening.event("part_started", 1, part=first),
        evening.event("part_started", 1, part=stranger),
        evening.event("fit_accepted", 1, part=second, station=stranger, setup={"numbers": "5v5"}),
    )
    assert [(each.outcome, each.text) for each in outcomes] == [
        ("taken", ""),
        ("refused", "This part is not in this session."),
        ("refused", "This station is not in this session."),
    ]
    assert len(evening.read().delivery["set_aside"]) == 1


@pytest.mark.parametrize(
    ("event", "text"),
    [
        ({"kind": "shortened", "minutes": 121}, "minutes: the session is 60 minutes; 121 is longer than it can have lasted"),
        ({"kind": "delivered", "minutes": 400}, "minutes: the session is 60 minutes; 400 is longer than it can have lasted"),
        ({"kind": "effort", "cr10": 10.5}, "effort: the CR10 scale ends at 10 (field `cr10`)"),
        ({"kind": "effort", "cr10": -1}, "effort: less than 0 (field `cr10`)"),
        ({"kind": "undone", "event": "the last one"}, "What is undone is named by the id of its event."),
        ({"kind": "trialist", "number": 1, "here": False, "joined": "the first"}, "Who goes is named by the id of the event by which they joined."),
        ({"kind": "trialist", "number": 0}, "trialist: too few; at least 1 (field `number`)"),
        ({"kind": "part_swapped", "part": "", "drill": "x", "revision": 1}, "part swapped: empty (field `part`)"),
    ],
)  # fmt: skip
def test_what_cant_be_is_said_in_a_coachs_words(evening: Evening, event: dict[str, Any], text: str) -> None:
    (outcome,) = evening.append(
        {**evening.event("note"), "text": "", **event}
        if "text" in event
        else {**evening.event("note"), **event}
    )
    assert (outcome.outcome, outcome.text) == ("refused", text)


def test_tomorrow_has_not_happened_and_last_season_is_over(evening: Evening) -> None:
    ahead = {**evening.event("note", text="a"), "at": (timezone.now() + timedelta(days=2)).isoformat()}
    behind = {**evening.event("note", text="a"), "at": (evening.starts - timedelta(days=90)).isoformat()}
    texts = [each.text for each in evening.append(ahead, behind)]
    assert texts == ["By our clock this has not happened yet.", "This happened long before this session."]


def test_a_form_that_is_newer_than_this_server_is_kept_and_not_guessed(evening: Evening) -> None:
    newer = {**evening.event("effort", 5, cr10=4), "v": 2}
    (outcome,) = evening.append(newer)
    assert (outcome.outcome, outcome.understood) == ("taken", False)
    assert evening.read().delivery["ratings"] == []
    assert DeliveryEvent.objects.get(session=evening.session).form == 2


def test_an_older_form_is_brought_up_step_by_step(evening: Evening, monkeypatch: pytest.MonkeyPatch) -> None:
    from sessions.planning.fold import bodies

    def tens(body: dict[str, Any]) -> dict[str, Any]:
        return {"cr10": body["borg"] / 10}

    monkeypatch.setattr(bodies, "FORMS", {"effort": (tens,)})
    old, new = {**evening.event("effort", 5), "borg": 40}, {**evening.event("effort", 6, cr10=5), "v": 2}
    assert [each.outcome for each in evening.append(old)] == ["taken"]
    assert evening.read().delivery["ratings"][0]["cr10"] == 4
    evening.append(new)
    assert evening.read().delivery["ratings"][0]["cr10"] == 5


def test_history_keeps_what_a_session_is_not_what_its_events_left_behind(evening: Evening) -> None:
    from django.apps import apps

    history = apps.get_model("training", "TrainingSessionEvent").objects.filter(pgh_obj_id=evening.session.pk)
    before = history.count()
    for number in range(65):
        evening.append(evening.event("note", number / 2, text=f"Note {number}"))
    assert history.count() == before  # each wrote the whole state once more: 90 kB for an evening
    evening.append(evening.event("delivered", 60))
    assert history.count() == before + 1
    assert {"delivery", "last_seq"}.isdisjoint(field.name for field in history.model._meta.get_fields())


def test_the_feed_never_skips_what_was_committed_between_rows_and_number(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sessions.queries import pitch

    read = pitch.events_since

    def another_phone_sends_meanwhile(*args: Any, **given: Any) -> Any:
        found = read(*args, **given)
        evening.append(evening.event("effort", 2, cr10=6))
        return found

    client, address = signed_in(evening.people.coach), f"/api/v1/sessions/{evening.session.public_id}/events/"

    def asks(since: int, *events: dict[str, Any]) -> Any:
        body = json.dumps({"events": events, "since": since})
        return client.post(address, body, content_type="application/json").json()

    monkeypatch.setattr(pitch, "events_since", another_phone_sends_meanwhile)
    first = asks(0, evening.event("arrived", 1, player=evening.players[0]))
    monkeypatch.setattr(pitch, "events_since", read)
    then = asks(first["last_seq"])
    assert (first["last_seq"], [each["cr10"] for each in then["events"]]) == (1, [6])
