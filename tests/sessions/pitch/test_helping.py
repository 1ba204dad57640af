"""A helper without an account: the code on the sheet, the coach's number, the pass of a phone, and until when."""

import json
import re
from base64 import urlsafe_b64decode, urlsafe_b64encode
from datetime import timedelta
from typing import Any

import pytest
from django.http import Http404
from django.test import Client

from sessions import actions
from sessions.models import DeliveryEvent, TrainingSession
from sessions.queries import helping
from tests.harness.races import at_once
from tests.people import NAMES, World, signed_in
from tests.sessions.pitch.evening import Evening, make_evening
from tests.sessions.pitch.helper_phone import (
    a_phone,
    address,
    client_of,
    named,
    outcomes,
    send,
    try_number,
    wrong,
)
from tests.sessions.test_sharing import plain

QUERIES = 11  # four of them count how often it was opened
QUERIES_OF_THE_CLOCK = 14
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("ten_past_six")]


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
    evening: Evening, ten_past_six: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = []
    monkeypatch.setattr("sessions.api.sheet.pdf", lambda sheet, size: found.append(sheet) or b"%PDF-")
    coach, path = signed_in(evening.people.coach), f"/sessions/{evening.session.public_id}/sheet.pdf"
    coach.get(path)
    ten_past_six.shift(timedelta(hours=4))
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
        with django_assert_num_queries(0), pytest.raises(Http404):
            helping.session_of_code(each)
        assert Client().get(f"/sessions/at/{each}/").status_code == 404, each


def test_a_deleted_session_and_one_that_never_was_are_answered_alike(evening: Evening) -> None:
    path = address(evening)
    never = Client().get("/sessions/at/never-made/")
    evening.session.delete()
    over = Client().get(path)
    assert (over.status_code, over["X-Robots-Tag"]) == (404, "noindex, nofollow")
    assert plain(over) == plain(never)


def test_code_number_and_pass_end_three_hours_after_the_session(evening: Evening, ten_past_six: Any) -> None:
    phone, ends = a_phone(evening), evening.starts + timedelta(hours=4)
    assert helping.open_until(evening.read()) == ends
    ten_past_six.move_to(ends - timedelta(seconds=1))
    assert Client().get(address(evening)).status_code == 200
    assert phone.get(address(evening, "run/")).status_code == 200
    assert outcomes(send(phone, evening, evening.event("heads", 200, count=9))) == ["taken"]
    ten_past_six.move_to(ends)
    for client in (Client(), phone):
        assert client.get(address(evening)).status_code == 404
        assert client.get(address(evening, "run/")).status_code == 404
        assert try_number(evening, client=client).status_code == 404
    late = [evening.event("heads", 239, count=12), evening.event("heads", 241, count=13)]
    ten_past_six.move_to(evening.starts + timedelta(hours=1, days=7) - timedelta(seconds=1))
    assert outcomes(send(phone, evening, *late)) == [
        "taken",
        "refused",
    ]  # what happened until then, from days without signal
    ten_past_six.move_to(evening.starts + timedelta(hours=1, days=7))
    assert send(phone, evening, evening.event("heads", 200, count=12)).status_code == 404
    assert DeliveryEvent.objects.count() == 2


def test_before_the_day_it_shows_the_plan_and_takes_no_number(evening: Evening, ten_past_six: Any) -> None:
    ten_past_six.move_to(evening.starts - timedelta(days=1))
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


def test_it_asks_the_database_few_times_and_is_opened_sixty_times_a_minute(
    evening: Evening, django_assert_num_queries: Any
) -> None:
    with django_assert_num_queries(QUERIES):
        assert Client().get(address(evening)).status_code == 200
    phone = a_phone(evening)
    with django_assert_num_queries(QUERIES_OF_THE_CLOCK):
        assert phone.get(address(evening, "run/")).status_code == 200
    codes = [Client().get(address(evening)).status_code for _ in range(59)]
    assert codes == [200] * 58 + [429]
    assert try_number(evening).status_code == 429
    assert phone.get(address(evening, "run/")).status_code == 200, "whoever is in stays in"


# ---- who scans it --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", NAMES)
def test_staff_of_the_age_group_go_to_their_page_everybody_else_sees_it_without_names(
    evening: Evening, who: str
) -> None:
    answer = client_of(evening, who).get(address(evening))
    if who in ("director", "coach", "helper"):
        assert answer.status_code == 302
        assert answer["Location"] == f"/sessions/{evening.session.public_id}/pitch/"
    else:
        assert answer.status_code == 200
        assert named(evening, answer.content) == []


@pytest.mark.parametrize("who", NAMES)
def test_without_a_pass_nobody_opens_the_clock_by_code_or_sends(evening: Evening, who: str) -> None:
    client = client_of(evening, who)
    assert client.get(address(evening, "run/"))["Location"] == address(evening)
    assert client.get(address(evening, "phone/")).json() == {"account": None}
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
    assert cookie["max-age"] == (7 * 24 * 60 + 50) * 60
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
    evening: Evening, ten_past_six: Any
) -> None:
    codes = [try_number(evening, wrong(evening), ip=f"203.0.113.{n}").status_code for n in range(5)]
    right = try_number(evening, ip="192.0.2.1")
    assert (codes, right.status_code, right["Retry-After"]) == ([400] * 5, 429, "900")
    assert "Too many wrong numbers." in right.content.decode()
    assert "bibrack_helper" not in right.cookies
    ten_past_six.shift(timedelta(minutes=14, seconds=59))
    assert try_number(evening).status_code == 429
    ten_past_six.shift(timedelta(seconds=2))
    assert try_number(evening).status_code == 302


def test_wrong_numbers_count_by_address_too_and_right_ones_do_not(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    for _ in range(7):
        assert try_number(evening).status_code == 302
    for _ in range(5):
        assert try_number(evening, wrong(evening), ip="203.0.113.9").status_code == 400
    assert try_number(other, ip="203.0.113.9").status_code == 429
    assert try_number(other, ip="203.0.113.10").status_code == 302


def test_a_quarter_of_an_hour_slides(evening: Evening, ten_past_six: Any) -> None:
    """Five at the end of one quarter and five at the beginning of the next would be ten."""
    for _ in range(5):
        try_number(evening, wrong(evening))
        ten_past_six.shift(timedelta(minutes=3))
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


def altered(given: str) -> str:
    """Another letter in the middle of its signature: some of the last one's bits say nothing, and it may be any."""
    head, _, signature = given.rpartition(":")
    letter = "B" if signature[5] == "A" else "A"
    return f"{head}:{signature[:5]}{letter}{signature[6:]}"


def test_a_pass_of_another_session_or_a_forged_one_opens_nothing(evening: Evening, world: World) -> None:
    other = make_evening(world, place=world.colleague)
    passes = {
        "of another session": helping.new_pass(other.read()),
        "altered": altered(helping.new_pass(evening.read())),
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
