"""How long a link lasts is said as it is, wherever it is said."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from bibrack.sign_in_links import way_in
from club import lasting
from club.choices import LinkKind
from club.models import OneTimeLink
from tests.people import People

HOUR = timedelta(hours=1)


@pytest.mark.parametrize(
    ("span", "words"),
    [
        (HOUR, "an hour"),
        (4 * HOUR, "4 hours"),
        (24 * HOUR, "a day"),
        (48 * HOUR, "2 days"),
        (168 * HOUR, "a week"),
    ],
)
def test_spans_in_words(span: timedelta, words: str) -> None:
    assert lasting.in_words(span) == words


@pytest.mark.django_db
def test_pages_and_terminal_say_how_long_links_work(people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(lasting.LINKS, LinkKind.SIGN_IN, timedelta(days=3))
    monkeypatch.setitem(lasting.LINKS, LinkKind.INVITATION, timedelta(days=14))
    monkeypatch.setitem(lasting.LINKS, LinkKind.SET_UP, timedelta(hours=5))
    director = Client()
    assert "within 3 days" in director.get("/accounts/password/reset/").content.decode()
    director.force_login(people.director, backend="django.contrib.auth.backends.ModelBackend")
    assert "within 2 weeks" in director.get("/club/staff/invite/").content.decode()
    made = director.post(f"/club/staff/{people.coach.public_id}/link/").content.decode()
    assert "within 3 days" in made
    link = OneTimeLink.objects.get(user=people.coach)
    assert abs(link.expires_at - timezone.now() - timedelta(days=3)) < HOUR


@pytest.mark.django_db
def test_the_terminal_says_how_long_the_first_link_works(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(lasting.LINKS, LinkKind.SET_UP, timedelta(hours=5))
    assert any("within 5 hours" in line for line in way_in())


@pytest.mark.django_db
def test_the_page_after_asking_says_how_long_its_link_works(client: Client, settings: Any) -> None:
    settings.MAIL_IS_SET = True
    settings.PASSWORD_RESET_TIMEOUT = 2 * 60 * 60
    assert "within 2 hours" in client.get("/accounts/password/reset/done/").content.decode()
