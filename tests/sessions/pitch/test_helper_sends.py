"""What a helper's phone may send and is told: the clock and heads, by nobody's name, and no name at all."""

import json
import re
from datetime import timedelta

import msgspec
import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from club.actor import NOBODY
from club.errors import Refused
from club.queries import actor_of
from sessions import actions, queries
from sessions.models import DeliveryEvent, LedgerEntry, Register
from sessions.planning.fold import KINDS
from sessions.queries import helping
from sessions.queries.set_up import players_tonight
from tests.people import World, signed_in
from tests.sessions.pitch.evening import Evening, make_evening
from tests.sessions.pitch.helper_phone import a_phone, address, named, outcomes, send, try_number

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("ten_past_six")]

REFUSED = "A helper's phone runs the clock and counts heads. The rest is for the coach."
SCRIPT = re.compile(r'<script id="evening" type="application/json">(.*?)</script>', re.DOTALL)


def test_no_name_is_in_the_page_or_in_any_answer(evening: Evening) -> None:
    for one, name in (
        ("coach", "Odalys Penhallow"),
        ("director", "Quill Brambury"),
        ("helper", "Tansy Overby"),
    ):
        person = getattr(evening.people, one)
        person.name = name
        person.save()
    evening.append(
        *(evening.event("arrived", player=each) for each in evening.players),
        evening.event("limited", 2, player=evening.players[0], limits=["no_heading"]),
        evening.event("guest", 3, player=evening.guest, squad="x"),
        evening.event("teams_set", 4, teams=[evening.players[:1], evening.players[1:]]),
        evening.event("out", 5, player=evening.players[2]),
        evening.event("note", 6, text="Child one was brilliant."),
        evening.event("effort", 7, cr10=4),
        evening.event("part_started", 1, part=evening.parts[0]),
        evening.event("collected", 8),
        actor=actor_of(evening.people.director),
    )
    phone = a_phone(evening)
    run = phone.get(address(evening, "run/"))
    sent = send(phone, evening, evening.event("heads", 9, count=14))
    for answer in (Client().get(address(evening)), run, sent, try_number(evening, "0")):
        assert named(evening, answer.content) == []
        assert b"brilliant" not in answer.content
        assert (answer["X-Robots-Tag"], answer["Referrer-Policy"]) == ("noindex, nofollow", "same-origin")
    kinds = {each["kind"] for each in sent.json()["events"]}
    assert kinds == {"part_started"}
    data = json.loads(SCRIPT.search(run.content.decode())[1])  # type: ignore[index]
    assert (data["players"], data["by_register"]) == ([], 3)
    assert {each["kind"] for each in data["events"]} == {"part_started"}


# ---- what is sent ----------------------------------------------------------------------------------------------------


def test_a_helper_runs_the_clock_and_counts_heads_by_nobodys_name(evening: Evening) -> None:
    phone = a_phone(evening)
    warm, game = evening.parts
    events = [
        evening.event("heads", 0, count=14),
        evening.event("part_started", 1, part=warm),
        evening.event("bout_held", 2, part=warm),
        evening.event("bout_resumed", 3, part=warm),
        evening.event("minute_more", 4, part=warm, minutes=1),
        evening.event("easier", 4.5, part=warm, to=""),
        evening.event("harder", 4.6, part=warm, to=""),
        evening.event("bout_dropped", 5, part=warm),
        evening.event("next_part", 6, part=game),
        evening.event("thunder", 7),
        evening.event("part_ended", 8, part=game),
        evening.event("part_skipped", 9, part=game),
    ]
    answer = send(phone, evening, *events, device="the coach's phone")
    assert outcomes(answer) == ["taken"] * len(events)
    rows = list(DeliveryEvent.objects.all())
    assert {row.actor_id for row in rows} == {None}
    assert len({row.device for row in rows}) == 1
    assert re.fullmatch(r"helper [0-9a-f]{8}", rows[0].device)
    assert outcomes(send(phone, evening, *events)) == ["already"] * len(events)
    session = evening.read()
    assert (session.delivery["heads"], session.delivery["helped"]) == (14, ["run", "heads"])


SAMPLES = {
    "to": "", "setup": {}, "cr10": 4, "text": "a", "minutes": 5, "reason": "pitch", "drill": "d", "revision": 1,
    "number": 3, "temperature_c": 31.5, "humidity_pct": 60, "count": 14, "answer": "yes",
}  # fmt: skip


@pytest.mark.parametrize("kind", [*sorted(set(KINDS) - helping.HELPERS_SEND), "never_heard_of"])
def test_every_other_kind_is_refused_by_itself(evening: Evening, kind: str) -> None:
    phone, good = a_phone(evening), evening.event("heads", 1, count=9)
    samples = {
        **SAMPLES,
        "player": evening.players[0],
        "part": evening.parts[0],
        "teams": [evening.players[:1]],
        "event": good["id"],
    }
    shape = KINDS.get(kind)
    fields = {f.name: samples[f.name] for f in msgspec.structs.fields(shape) if f.required} if shape else {}
    answer = send(phone, evening, evening.event(kind, **fields), good)
    assert outcomes(answer) == ["refused", "taken"]
    assert answer.json()["results"][0]["text"] == REFUSED
    assert list(DeliveryEvent.objects.values_list("kind", flat=True)) == ["heads"]
    assert not Register.objects.exists()


def test_a_helper_undoes_only_what_the_same_phone_did(evening: Evening) -> None:
    phone, other = a_phone(evening), a_phone(evening)
    coachs, own, same = (
        evening.event("thunder", 1),
        evening.event("thunder", 2),
        evening.event("heads", 3, count=4),
    )
    evening.append(coachs)
    assert outcomes(send(phone, evening, own)) == ["taken"]
    undo = [evening.event("undone", 4, event=each["id"]) for each in (coachs, own, own, same)]
    assert outcomes(send(phone, evening, undo[0], undo[1])) == ["refused", "taken"]
    assert outcomes(send(other, evening, undo[2])) == ["refused"]
    assert outcomes(send(phone, evening, same, undo[3])) == ["taken", "taken"], "in one batch as well"
    assert outcomes(send(phone, evening, evening.event("undone", 5, event="nothing"))) == ["refused"]
    session = evening.read()
    assert session.delivery["heads"] is None
    assert "helped" not in session.delivery
    assert session.delivery["thunder_at"] is not None, "the coach's stands"


def test_what_was_never_this_sessions_is_refused(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    answer = send(a_phone(evening), evening, evening.event("part_started", part=other.parts[0]))
    assert outcomes(answer) == ["refused"]
    odd = [evening.event("heads", count=each) for each in (0, 100, -1, 2.5, "14", None, True)]
    assert outcomes(send(a_phone(evening), evening, *odd, 7, None)) == ["refused"] * 9


@pytest.mark.parametrize(
    "body", ["{}", "null", "{", "[" * 9000, '{"events": [], "since": -1}', '{"events": {}}']
)
def test_a_body_that_is_no_batch_is_400(evening: Evening, body: str) -> None:
    answer = a_phone(evening).post(address(evening, "events/"), body, content_type="application/json")
    assert (answer.status_code, "detail" in answer.json()) == (400, True)


def test_too_much_is_refused(evening: Evening, monkeypatch: pytest.MonkeyPatch) -> None:
    phone = a_phone(evening)
    many = [evening.event("heads", count=9) for _ in range(501)]
    assert send(phone, evening, *many).status_code == 400
    assert send(phone, evening, "x" * 1_100_000).status_code == 413
    monkeypatch.setattr("sessions.actions.helping.MOST_BY_HELPERS", 3)
    assert outcomes(send(phone, evening, *many[:5])) == ["taken"] * 3 + ["refused"] * 2
    codes = [send(phone, evening).status_code for _ in range(118)]
    assert codes[-1] == 429
    assert set(codes[:-1]) == {200}


# ---- what becomes of it ------------------------------------------------------------------------------------------------


def test_heads_are_tonights_number_until_the_register_has_somebody_and_leave_no_other_trace(
    evening: Evening,
) -> None:
    phone = a_phone(evening)
    send(phone, evening, evening.event("heads", 1, count=14))
    assert players_tonight(queries.session_by_id(evening.session.public_id)) == 14  # type: ignore[arg-type]
    coach = signed_in(evening.people.coach)
    api = coach.get(f"/api/v1/sessions/{evening.session.public_id}/").json()
    page = coach.get(f"/sessions/{evening.session.public_id}/pitch/")
    assert (api["players_tonight"], page.context["shown"].data["expected"]) == (14, 14)
    evening.append(evening.event("absent", player=evening.players[0]))
    assert players_tonight(evening.read()) == 14
    evening.append(evening.event("arrived", player=evening.players[1]))
    assert players_tonight(evening.read()) == 1
    assert Register.objects.count() == 2
    send(phone, evening, evening.event("heads", 30, count=13))
    evening.append(evening.event("delivered", 60, minutes=60))
    assert Register.objects.count() == 2
    [entry] = LedgerEntry.objects.filter(player=None)
    before = entry.minutes, entry.load_au, entry.headers
    DeliveryEvent.objects.filter(kind="heads").delete()
    actions.rebuild(session=evening.read())
    again = LedgerEntry.objects.get(player=None)
    assert (again.minutes, again.load_au, again.headers) == before


def test_the_record_says_by_a_helper(evening: Evening) -> None:
    send(
        a_phone(evening),
        evening,
        evening.event("heads", 0, count=14),
        evening.event("part_started", 1, part=evening.parts[0]),
    )
    evening.append(evening.event("delivered", 60))
    html = signed_in(evening.people.director).get(f"/sessions/{evening.session.public_id}/").content.decode()
    assert "A helper ran the clock, without an account." in html
    assert "A helper counted 14 players, without names." in html
    api = signed_in(evening.people.director).get(f"/api/v1/sessions/{evening.session.public_id}/")
    assert "A helper ran the clock, without an account." in api.content.decode()


def test_without_a_helper_the_record_says_nothing_of_one(evening: Evening) -> None:
    evening.append(evening.event("part_started", 1, part=evening.parts[0]), evening.event("delivered", 60))
    html = signed_in(evening.people.director).get(f"/sessions/{evening.session.public_id}/").content.decode()
    assert "helper ran" not in html
    assert "A helper counted" not in html


def test_nobody_is_still_nobody_at_the_other_door(evening: Evening) -> None:
    with pytest.raises(Refused, match="Nobody is signed in"):
        actions.append_events(
            actor=NOBODY, session=evening.session, device="x", events=[evening.event("thunder")]
        )
    phone = a_phone(evening)
    path = f"/api/v1/sessions/{evening.session.public_id}/events/"
    assert phone.post(path, "[]", content_type="application/json").status_code == 401


def test_a_pass_is_for_this_evening_whatever_day_the_server_has(evening: Evening) -> None:
    """A session late in the evening: its three hours run into the next day."""
    session = evening.read()
    assert helping.takes_number(session)
    with time_machine.travel(helping.open_until(session) - timedelta(minutes=1), tick=False):
        assert helping.takes_number(session)
        assert timezone.now() > session.period.upper
