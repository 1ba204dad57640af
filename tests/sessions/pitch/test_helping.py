"""A helper without an account: the code on the sheet, the coach's number, what their phone may send, and until when."""

import json
import re
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.core.cache import cache
from django.test import Client
from django.utils import timezone

from club.models import Player
from sessions import actions, queries
from sessions.models import DeliveryEvent, LedgerEntry, Register, TrainingSession
from sessions.planning.fold import KINDS
from sessions.queries import helping
from sessions.queries.set_up import players_tonight
from tests.harness.races import at_once
from tests.people import NAMES, World, signed_in
from tests.sessions.pitch.evening import Evening, make_evening

pytestmark = pytest.mark.django_db

REFUSED = "A helper's phone runs the clock and counts heads. The rest is for the coach."
SCRIPT = re.compile(r'<script id="evening" type="application/json">(.*?)</script>', re.DOTALL)


@pytest.fixture(autouse=True)
def in_the_session(evening: Evening) -> Iterator[Any]:
    """It is ten past six on the evening, whatever the hour; nobody has guessed yet."""
    cache.clear()
    with time_machine.travel(evening.starts + timedelta(minutes=10), tick=False) as clock:
        yield clock


def address(evening: Evening, more: str = "") -> str:
    return f"/sessions/at/{helping.code_of(evening.read())}/{more}"


def wrong(evening: Evening) -> str:
    return f"{(int(helping.number_of(evening.read())) + 1) % 10_000:04d}"


def try_number(
    evening: Evening, number: str = "", *, client: Client | None = None, ip: str = "198.51.100.7"
) -> Any:
    given = {"number": number or helping.number_of(evening.read())}
    return (client or Client()).post(address(evening, "number/"), given, REMOTE_ADDR=ip)


def a_phone(evening: Evening) -> Client:
    """A phone that was let in."""
    client = Client()
    assert try_number(evening, client=client).status_code == 302
    return client


def send(client: Client, evening: Evening, *events: Any, **given: Any) -> Any:
    body = json.dumps({"events": list(events), "since": 0, **given})
    return client.post(address(evening, "events/"), body, content_type="application/json")


def outcomes(answer: Any) -> list[str]:
    return [each["outcome"] for each in answer.json()["results"]]


# ---- the code ------------------------------------------------------------------------------------------------------


def test_every_sheet_of_a_session_has_its_code_and_it_opens_without_an_account(evening: Evening) -> None:
    session = evening.read()
    assert helping.code_of(session) == helping.code_of(evening.read())
    answer = Client().get(address(evening))
    html = answer.content.decode()
    assert (answer.status_code, answer["X-Robots-Tag"], answer["Referrer-Policy"]) == (
        200,
        "noindex, nofollow",
        "same-origin",
    )
    assert answer["Cache-Control"] == "private, no-store"
    assert "default-src 'self'" in answer["Content-Security-Policy"]
    assert "<h1>Early doors</h1>" in html
    assert 'name="number"' in html


def test_the_sheet_holds_the_code_until_it_ends_and_then_the_way_in_with_an_account(
    evening: Evening, in_the_session: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = []
    monkeypatch.setattr("sessions.api.sheet.pdf", lambda sheet, size: found.append(sheet) or b"%PDF-")
    coach, path = signed_in(evening.people.coach), f"/sessions/{evening.session.public_id}/sheet.pdf"
    coach.get(path)
    in_the_session.shift(timedelta(hours=4))
    coach.get(path)
    assert [each.link.removeprefix("http://testserver") for each in found] == [
        address(evening),
        f"/sessions/{evening.session.public_id}/",
    ]
    assert ["no account" in each.labels["code"] for each in found] == [True, False]


def test_a_code_that_was_altered_or_made_up_opens_nothing_and_asks_no_database(
    evening: Evening, django_assert_num_queries: Any
) -> None:
    code = helping.code_of(evening.read())
    raw = urlsafe_b64decode(code + "=")
    turned = [bytes([*raw[:n], raw[n] ^ 1, *raw[n + 1 :]]) for n in (0, 15, 16, 31)]
    others = [urlsafe_b64encode(each).decode().rstrip("=") for each in turned]
    # The last character of 43 holds two bits that mean nothing: they are no second way to write a code.
    others += [code[:-1] + each for each in "ABCDwxyz0123-_" if each != code[-1]]
    others += [code + "A", code[:-1], "x", "é" * 43, str(evening.session.public_id)]
    for each in others:
        with django_assert_num_queries(0), pytest.raises(Exception, match=""):
            helping.session_of_code(each)
        assert Client().get(f"/sessions/at/{each}/").status_code == 404, each


def test_a_deleted_session_and_one_that_never_was_are_answered_alike(evening: Evening) -> None:
    path = address(evening)
    plain = Client().get("/sessions/at/never-made/")
    evening.session.delete()
    over = Client().get(path)
    assert (over.status_code, over["X-Robots-Tag"]) == (404, "noindex, nofollow")
    assert over.content == plain.content


def test_code_number_and_pass_end_three_hours_after_the_session(
    evening: Evening, in_the_session: Any
) -> None:
    phone, ends = a_phone(evening), evening.starts + timedelta(hours=4)
    assert helping.open_until(evening.read()) == ends
    in_the_session.move_to(ends - timedelta(seconds=1))
    assert Client().get(address(evening)).status_code == 200
    assert phone.get(address(evening, "run/")).status_code == 200
    assert outcomes(send(phone, evening, evening.event("heads", 200, count=9))) == ["taken"]
    in_the_session.move_to(ends)
    for client in (Client(), phone):
        assert client.get(address(evening)).status_code == 404
        assert client.get(address(evening, "run/")).status_code == 404
        assert try_number(evening, client=client).status_code == 404
    assert send(phone, evening, evening.event("heads", 200, count=12)).status_code == 404
    assert DeliveryEvent.objects.count() == 1


def test_before_the_day_it_shows_the_plan_and_takes_no_number(evening: Evening, in_the_session: Any) -> None:
    in_the_session.move_to(evening.starts - timedelta(days=1))
    html = Client().get(address(evening)).content.decode()
    assert "On the day, a number from the coach opens the clock here." in html
    assert 'name="number"' not in html
    client = Client()
    assert try_number(evening, client=client).headers["Location"] == address(evening)
    assert "bibrack_helper" not in client.cookies


def test_of_a_cancelled_session_it_says_so(evening: Evening) -> None:
    TrainingSession.objects.update(state="cancelled", why_cancelled="weather")
    html = Client().get(address(evening)).content.decode()
    assert "This session is cancelled." in html
    assert 'name="number"' not in html
    assert "bibrack_helper" not in try_number(evening).cookies


def test_a_session_that_is_moved_keeps_its_code_and_has_another_number(evening: Evening) -> None:
    before = evening.read()
    after = evening.read()
    after.day += timedelta(days=2)
    assert helping.code_of(before) == helping.code_of(after)
    assert helping.number_of(before) != helping.number_of(after)


# ---- who scans it --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", NAMES)
def test_staff_of_the_age_group_go_to_their_page_everybody_else_sees_it_without_names(
    evening: Evening, world: World, who: str
) -> None:
    answer = world.client(who).get(address(evening))
    if who in ("director", "coach", "helper"):
        assert answer.status_code == 302
        assert answer["Location"] == f"/sessions/{evening.session.public_id}/pitch/"
    else:
        assert answer.status_code == 200
        assert named(evening, answer.content) == []


@pytest.mark.parametrize("who", NAMES)
def test_without_a_pass_nobody_opens_the_clock_by_code_or_sends(
    evening: Evening, world: World, who: str
) -> None:
    client = world.client(who)
    assert client.get(address(evening, "run/"))["Location"] == address(evening)
    assert send(client, evening, evening.event("heads", count=9)).status_code == 403
    assert DeliveryEvent.objects.count() == 0


# ---- the number ----------------------------------------------------------------------------------------------------


def test_the_number_is_on_the_coachs_pages_and_lets_a_phone_in(evening: Evening) -> None:
    number = helping.number_of(evening.read())
    assert re.fullmatch(r"\d{4}", number)
    coach = signed_in(evening.people.coach)
    for more in ("", "pitch/"):
        html = coach.get(f"/sessions/{evening.session.public_id}/{more}").content.decode()
        assert f">{number}</b> On the day, until 22:00." in html
    client = Client()
    answer = try_number(evening, f" {number[:2]} {number[2:]} ", client=client)
    assert answer["Location"] == address(evening, "run/")
    cookie = client.cookies["bibrack_helper"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Lax", address(evening))
    assert cookie["max-age"] == (3 * 60 + 50) * 60
    assert client.get(address(evening))["Location"] == address(evening, "run/")
    assert client.get(address(evening, "run/")).status_code == 200


def test_who_reads_the_plan_alone_is_told_no_number(evening: Evening) -> None:
    number = helping.number_of(evening.read())
    for who in ("reader", "colleague"):
        html = signed_in(getattr(evening.people, who)).get(f"/sessions/{evening.session.public_id}/")
        assert (html.status_code, f">{number}<" in html.content.decode()) == (200, False)


@pytest.mark.parametrize("given", ["", "abcd", "12345", "٠١٢٣", "x" * 5000, "\x00"])
def test_what_is_no_number_is_a_wrong_one_with_words_beside_the_field(evening: Evening, given: str) -> None:
    answer = try_number(evening, given or " ")
    html = answer.content.decode()
    assert (answer.status_code, "bibrack_helper" in answer.cookies) == (400, False)
    assert "That is not tonight's number." in html.replace("&#x27;", "'")
    assert 'aria-describedby="number-error"' in html


def test_after_five_wrong_numbers_the_right_one_waits_a_quarter_of_an_hour(
    evening: Evening, in_the_session: Any
) -> None:
    codes = [try_number(evening, wrong(evening), ip=f"203.0.113.{n}").status_code for n in range(5)]
    right = try_number(evening, ip="192.0.2.1")
    assert (codes, right.status_code, right["Retry-After"]) == ([400] * 5, 429, "900")
    assert "Too many wrong numbers." in right.content.decode()
    assert "bibrack_helper" not in right.cookies
    in_the_session.shift(timedelta(minutes=14, seconds=59))
    assert try_number(evening).status_code == 429
    in_the_session.shift(timedelta(seconds=2))
    assert try_number(evening).status_code == 302


def test_wrong_numbers_count_by_address_too_and_right_ones_do_not(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    for _ in range(7):
        assert try_number(evening).status_code == 302
    for _ in range(5):
        assert try_number(evening, wrong(evening), ip="203.0.113.9").status_code == 400
    assert try_number(other, ip="203.0.113.9").status_code == 429
    assert try_number(other, ip="203.0.113.10").status_code == 302


def test_a_quarter_of_an_hour_slides(evening: Evening, in_the_session: Any) -> None:
    """Five at the end of one quarter and five at the beginning of the next would be ten."""
    for _ in range(5):
        try_number(evening, wrong(evening))
        in_the_session.shift(timedelta(minutes=3))
    assert try_number(evening, wrong(evening)).status_code == 400  # the first is 15 minutes ago
    assert try_number(evening, wrong(evening)).status_code == 429


@pytest.mark.django_db(transaction=True)
def test_wrong_numbers_at_the_same_moment_are_five_all_the_same(evening: Evening) -> None:
    session, number = evening.read(), wrong(evening)
    found: list[bool] = []
    at_once(
        12,
        lambda: found.append(actions.let_in(session=session, number=number, address="203.0.113.1").too_often),
    )
    assert (found.count(False), found.count(True)) == (5, 7)


def test_another_number_shuts_out_the_one_before_and_its_phones(evening: Evening) -> None:
    phone, before = a_phone(evening), helping.number_of(evening.read())
    coach = signed_in(evening.people.coach)
    path = f"/sessions/{evening.session.public_id}/helper/"
    assert coach.post(path)["Location"] == f"/sessions/{evening.session.public_id}/#helper"
    assert helping.number_of(evening.read()) != before
    assert try_number(evening, before).status_code == 400
    assert phone.get(address(evening, "run/")).status_code == 302
    assert send(phone, evening, evening.event("heads", count=9)).status_code == 403
    assert signed_in(evening.people.helper).post(path).status_code == 403


# ---- the pass ------------------------------------------------------------------------------------------------------


def test_a_pass_of_another_session_or_a_forged_one_opens_nothing(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    passes = {
        "of another session": helping.new_pass(other.read()),
        "altered": helping.new_pass(evening.read())[:-1] + "A",
        "made up": "aGVscGVy:1abcde:xyz",
        "the number itself": helping.number_of(evening.read()),
        "empty": "",
    }
    for name, each in passes.items():
        client = Client()
        client.cookies["bibrack_helper"] = each
        assert client.get(address(evening, "run/")).status_code == 302, name
        assert send(client, evening, evening.event("heads", count=9)).status_code == 403, name
    assert DeliveryEvent.objects.count() == 0


def test_the_number_of_another_session_is_a_wrong_one(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    assert helping.number_of(other.read()) != helping.number_of(evening.read())
    assert try_number(evening, helping.number_of(other.read())).status_code == 400


def test_what_is_sent_needs_the_token_against_forged_forms(evening: Evening) -> None:
    client = Client(enforce_csrf_checks=True)
    client.cookies["bibrack_helper"] = helping.new_pass(evening.read())
    assert send(client, evening, evening.event("heads", count=9)).status_code == 403
    assert client.post(address(evening, "number/"), {"number": "1"}).status_code == 403
    html = client.get(address(evening, "run/")).content.decode()
    token = re.search(r'csrfmiddlewaretoken" value="(\w+)"', html)
    assert token is not None
    body = json.dumps([evening.event("heads", count=9)])
    answer = client.post(
        address(evening, "events/"), body, content_type="application/json", headers={"X-CSRFToken": token[1]}
    )
    assert (answer.status_code, DeliveryEvent.objects.count()) == (200, 1)


# ---- names -----------------------------------------------------------------------------------------------------------


def named(evening: Evening, content: bytes) -> list[str]:
    """What of players stands in bytes that a helper gets: names, and the ids by which events call them."""
    text = content.decode()
    found = Player.objects.values_list("display_name", "public_id")
    people = [evening.people.coach, evening.people.director, evening.people.helper]
    told = [str(each) for row in found for each in row] + [
        each for one in people for each in (one.name, one.email)
    ]
    assert len(told) > 8
    return [each for each in told if each and each in text]


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
        actor=queries_actor(evening.people.director),
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


def queries_actor(person: Any) -> Any:
    from club.queries import actor_of

    return actor_of(person)


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
    "number": 3, "temperature_c": 31.5, "humidity_pct": 60, "count": 14,
}  # fmt: skip


@pytest.mark.parametrize("kind", sorted(set(KINDS) - helping.HELPERS_SEND) + ["never_heard_of"])
def test_every_other_kind_is_refused_by_itself(evening: Evening, kind: str) -> None:
    import msgspec

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
    api = signed_in(evening.people.director).get(f"/api/v1/sessions/{evening.session.public_id}/happened/")
    if api.status_code == 200:
        assert "A helper ran the clock" in api.content.decode()


def test_without_a_helper_the_record_says_nothing_of_one(evening: Evening) -> None:
    evening.append(evening.event("part_started", 1, part=evening.parts[0]), evening.event("delivered", 60))
    html = signed_in(evening.people.director).get(f"/sessions/{evening.session.public_id}/").content.decode()
    assert "helper ran" not in html
    assert "A helper counted" not in html


def test_nobody_is_still_nobody_at_the_other_door(evening: Evening) -> None:
    from club.actor import NOBODY
    from club.errors import Refused

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
