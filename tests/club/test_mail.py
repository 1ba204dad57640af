"""Mail that a real server receives: a forgotten password, another address, notices; and a club without mail."""

import re
import smtplib
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

import allauth
import pytest
from allauth.account.models import EmailAddress
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from club import actions
from club.models import User
from tests.factories import PASSWORD
from tests.harness.free_port import free_port
from tests.harness.jobs import run_jobs
from tests.harness.mailbox import PASSWORD as MAIL_PASSWORD
from tests.harness.mailbox import USER, Mailbox, mailbox
from tests.people import World, signed_in

LOGIN, FORGOTTEN = "/accounts/login/", "/accounts/password/reset/"
NEW = "four plain words together"


@pytest.fixture
def mail(settings: Any) -> Iterator[Mailbox]:
    """A club whose mail goes to a server of this test."""
    cache.clear()
    with mailbox() as box:
        with_mail(settings, box.port)
        yield box
    cache.clear()


def with_mail(settings: Any, port: int) -> None:
    settings.MAIL_IS_SET = True
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", port
    settings.EMAIL_HOST_USER, settings.EMAIL_HOST_PASSWORD = USER, MAIL_PASSWORD
    settings.EMAIL_TIMEOUT = 5


def signs_in(email: str, password: str) -> bool:
    cache.clear()
    return Client().post(LOGIN, {"login": email, "password": password}).status_code == 302


def sent() -> list[tuple[str, dict[str, Any]]]:
    """What waits to be sent: the state of each job and what it was given."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT status::text, args::text FROM procrastinate_jobs WHERE task_name = 'club.send_mail' ORDER BY id"
        )
        return cursor.fetchall()


def due_now() -> None:
    """The time of waiting is over for what is to be tried again."""
    with connection.cursor() as cursor:
        cursor.execute("UPDATE procrastinate_jobs SET scheduled_at = NULL WHERE status = 'todo'")


@pytest.mark.django_db(transaction=True)
def test_a_forgotten_password_from_the_page_to_the_new_one(world: World, mail: Mailbox) -> None:
    coach, other = world.people.coach, signed_in(world.people.coach)
    client = Client()
    assert FORGOTTEN in client.get(LOGIN).content.decode()
    asked = client.post(FORGOTTEN, {"email": "Coach@Ashmere.example"})
    assert (asked.status_code, asked.url) == (302, f"{FORGOTTEN}done/")
    assert mail.messages == []  # the page waited for no mail server
    run_jobs("quick")
    to, subject, _text = mail.last()
    assert (len(mail.messages), to, subject) == (1, coach.email, "A new password")
    link = mail.link()
    assert not any(link.rstrip("/").split("-")[-1] in row for row in map(str, sent()))
    page = client.get(link, follow=True)
    assert link not in str(page.redirect_chain)
    done = client.post(page.redirect_chain[-1][0], {"password1": NEW, "password2": NEW})
    assert (done.status_code, done.url) == (302, f"{FORGOTTEN}key/done/")
    assert (signs_in(coach.email, NEW), signs_in(coach.email, PASSWORD)) == (True, False)
    assert other.get("/squads/").status_code == 302  # who was signed in elsewhere is out
    again = Client().get(link, follow=True)
    assert "This link no longer works" in again.content.decode()
    run_jobs("quick")
    assert mail.last()[:2] == (coach.email, "Your password was changed")


@pytest.mark.django_db(transaction=True)
def test_a_server_that_is_away_or_refuses_keeps_nobody_waiting_and_gets_the_mail_later(
    world: World, mail: Mailbox, settings: Any
) -> None:
    settings.EMAIL_PORT = free_port()
    assert Client().post(FORGOTTEN, {"email": world.people.coach.email}).status_code == 302
    run_jobs("quick")
    assert [status for status, _ in sent()] == ["todo"]
    settings.EMAIL_PORT, mail.refuses = mail.port, "550 not from here"
    due_now()
    run_jobs("quick")
    assert ([status for status, _ in sent()], mail.messages) == (["todo"], [])
    mail.refuses = ""
    due_now()
    run_jobs("quick")
    assert [status for status, _ in sent()] == ["succeeded"]
    assert mail.last()[0] == world.people.coach.email


@pytest.mark.django_db
def test_nobody_learns_who_has_an_account(
    world: World, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same page by the same way: no mail is written while somebody waits, and nothing else is asked or kept."""
    with_mail(settings, free_port())
    monkeypatch.setattr(smtplib.SMTP, "connect", lambda *args, **kwargs: pytest.fail("mail in a request"))
    told = []
    for email in (world.people.coach.email, "nobody@ashmere.example"):
        cache.clear()
        client = Client()
        with CaptureQueriesContext(connection) as asked:
            response = client.post(FORGOTTEN, {"email": email})
        asked_for = [each["sql"].split("'")[0] for each in asked]
        shown = re.sub(
            r'name="csrfmiddlewaretoken" value="\w+"', "", client.get(response.url).content.decode()
        )
        told.append((response.status_code, response.url, shown, asked_for))
    assert len(told[0][3]) > 3
    cache.clear()
    assert told[0] == told[1]
    jobs = [args for _, args in sent()]
    assert [
        f'"user_id": {pk}' in args for pk, args in zip((world.people.coach.pk, "null"), jobs, strict=True)
    ] == [True] * 2
    assert "ashmere" not in str(jobs)
    assert actions.send_mail(kind="account/email/password_reset_key", user_id=None, facts={}) is False


@pytest.mark.django_db(transaction=True)
def test_another_address_counts_once_it_is_confirmed(world: World, mail: Mailbox) -> None:
    coach = world.people.coach
    actions.confirm_address(user=coach)
    client, address = signed_in(coach), reverse("account_email")
    assert address in client.get("/account/").content.decode()
    typed = {"email": "carl@ashmere.example", "action_add": ""}
    assert client.post(address, typed).status_code == 302
    run_jobs("quick")
    assert mail.last()[:2] == ("carl@ashmere.example", "Confirm your address")
    assert "A link was sent to carl@ashmere.example." in client.get(address).content.decode()
    assert signs_in("coach@ashmere.example", PASSWORD)
    link = mail.link()
    assert Client().get(link).status_code == 200  # a preview confirms nothing
    assert EmailAddress.objects.filter(user=coach, verified=True).get().email == "coach@ashmere.example"
    assert client.post(link).status_code == 302
    assert (signs_in("carl@ashmere.example", PASSWORD), signs_in("coach@ashmere.example", PASSWORD)) == (
        True,
        False,
    )
    assert EmailAddress.objects.filter(user=coach).get().email == "carl@ashmere.example"
    run_jobs("quick")
    assert mail.last()[:2] == ("coach@ashmere.example", "Your address was changed")


@pytest.mark.django_db(transaction=True)
def test_an_address_that_somebody_else_has_is_not_taken(world: World, mail: Mailbox) -> None:
    for person in (world.people.coach, world.people.helper):
        actions.confirm_address(user=person)
    client = signed_in(world.people.coach)
    client.post(reverse("account_email"), {"email": world.people.helper.email, "action_add": ""})
    run_jobs("quick")
    link = mail.link()
    assert "Another account has this address already." in client.get(link).content.decode()
    EmailAddress.objects.filter(user=world.people.helper).delete()  # then only the account itself holds it
    assert client.post(link).status_code < 500
    world.people.coach.refresh_from_db()
    assert world.people.coach.email == "coach@ashmere.example"


KINDS = (
    "account/email/email_changed",
    "account/email/email_deleted",
    "account/email/password_changed",
    "account/email/password_reset",
    "account/email/password_set",
    "mfa/email/recovery_codes_generated",
    "mfa/email/totp_activated",
    "mfa/email/totp_deactivated",
)


def test_every_notice_that_the_library_sends_is_known() -> None:
    folder = Path(allauth.__file__).parent
    source = "".join(path.read_text() for path in folder.rglob("internal/flows/*.py"))
    source += "".join(path.read_text() for path in folder.glob("mfa/*/internal/flows.py"))
    named = set(re.findall(r'send_notification_mail\(\s*"([^"]+)"', source))
    assert {each for each in named if not re.search("webauthn|social", each)} == set(KINDS)


@pytest.mark.django_db
@pytest.mark.parametrize("kind", KINDS)
def test_each_notice_is_in_our_own_words(kind: str, world: World, mailoutbox: list[Any]) -> None:
    assert actions.send_mail(kind=kind, user_id=world.people.coach.pk, facts={"from_email": "a@b.example"})
    mail = mailoutbox[0]
    assert (mail.to, mail.from_email) == (["coach@ashmere.example"], "Ashmere Rovers <bibrack@localhost>")
    assert "Sent by the training library at http://localhost:8000." in mail.body
    assert "Not you? Tell your director at once" in mail.body
    assert "\n" not in mail.subject


# Every address of signing in -------------------------------------------------------------------------------------

SENT = {
    "email": "new@ashmere.example",
    "password1": NEW,
    "password2": NEW,
    "oldpassword": PASSWORD,
    "password": PASSWORD,
    "code": "000000",
    "login": "coach@ashmere.example",
}
ACTIONS = [{**SENT, f"action_{name}": ""} for name in ("add", "send", "primary", "remove")]
UNUSED = (
    "/accounts/signup/",
    "/accounts/login/code/",
    "/accounts/login/code/confirm/",
    "/accounts/confirm-email/",
    "/accounts/phone/verify/",
    "/accounts/2fa/webauthn/",
    "/accounts/2fa/trust/",
    "/accounts/3rdparty/",
    "/accounts/sessions/",
    "/accounts/password/reset/confirm/",
    "/accounts/password/reset/key/zzzzzzzzzzzzz-x/",
)
NEED_MAIL = {"/accounts/email/", "/accounts/confirm-email/1:x:y/", f"{FORGOTTEN}done/"}


def addresses() -> list[str]:
    from club.account_urls import urlpatterns

    kwargs = {"account_confirm_email": {"key": "1:x:y"}}
    kwargs |= {"account_reset_password_from_key": {"uidb36": "zzzzzzzzzzzz", "key": "x-y"}}
    return [reverse(str(each.name), kwargs=kwargs.get(str(each.name))) for each in urlpatterns]


@pytest.mark.django_db
@pytest.mark.parametrize("has_mail", [False, True])
def test_no_address_of_signing_in_breaks_whatever_is_sent_there(
    has_mail: bool, world: World, settings: Any
) -> None:
    if has_mail:
        with_mail(settings, free_port())
    found: dict[str, set[int]] = {}
    for address, person in product((*addresses(), *UNUSED), (None, world.people.coach)):
        client = signed_in(person)
        found.setdefault(address, set()).add(client.get(address).status_code)
        for more in ACTIONS if address == "/accounts/email/" else ({}, SENT):
            cache.clear()
            found[address].add(client.post(address, more).status_code)
    cache.clear()
    assert {address for address, statuses in found.items() if max(statuses) >= 500} == set()
    assert {address for address in UNUSED if found[address] != {404}} == set()
    without = {address for address, statuses in found.items() if statuses == {404}} - set(UNUSED)
    assert without == (set() if has_mail else NEED_MAIL)
    assert (len(sent()) > 0) == has_mail


@pytest.mark.django_db
def test_without_mail_no_page_offers_it_and_the_director_is_named(world: World) -> None:
    page = Client().get(FORGOTTEN).content.decode()
    assert "Ask your director for a sign-in link" in page
    assert 'type="email"' not in page
    for address in ("/account/", "/accounts/password/change/", "/accounts/2fa/"):
        assert "/accounts/email/" not in signed_in(world.people.coach).get(address).content.decode()


@pytest.mark.django_db
def test_the_doctor_says_whether_mail_goes_out(settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    from bibrack.management.commands.doctor import look_over

    monkeypatch.setattr("django.core.checks.run_checks", list)
    assert any("No mail (EMAIL_URL is not set)" in line for good, line in look_over() if good)
    with mailbox() as box:
        with_mail(settings, box.port)
        assert (
            True,
            f"Mail goes through 127.0.0.1:{box.port}, from {settings.DEFAULT_FROM_EMAIL}.",
        ) in look_over()
    bad = [line for good, line in look_over() if not good and "handed over" in line]
    assert len(bad) == 1
    assert MAIL_PASSWORD not in bad[0]


# A link from the director ----------------------------------------------------------------------------------------


@pytest.mark.django_db
def test_who_came_by_a_link_from_the_director_chooses_a_new_password_without_the_old(world: World) -> None:
    coach, client = world.people.coach, Client()
    made = signed_in(world.people.director).post(reverse("club:sign-in-link", args=[coach.public_id]))
    path = made.context["link"].removeprefix("http://testserver")
    assert path in made.content.decode()
    client.post(path)
    change = reverse("account_change_password")
    assert "oldpassword" not in client.get(change).content.decode()
    assert client.post(change, {"password1": NEW, "password2": NEW}).status_code == 302
    assert (signs_in(coach.email, NEW), signs_in(coach.email, PASSWORD)) == (True, False)
    assert "oldpassword" in client.get(change).content.decode()  # once
    assert "oldpassword" in signed_in(world.people.helper).get(change).content.decode()


@pytest.mark.django_db
def test_a_link_for_an_administrator_is_an_administrator_s_to_make(world: World) -> None:
    address = reverse("club:sign-in-link", args=[world.people.administrator.public_id])
    refused = signed_in(world.people.director).post(address, follow=True).content.decode()
    assert "Only an administrator makes a link for an administrator." in refused
    assert signed_in(world.people.administrator).post(address).status_code == 200
    assert User.objects.get(pk=world.people.administrator.pk).is_superuser
