"""Every page in the made-up language, what its forms answer, and paper: each word is of the catalogue or the club's own."""

from dataclasses import asdict
from typing import Any

import pytest
from django.db import transaction

from tests.browser import addresses
from tests.browser.addresses import DIRECTOR
from tests.browser.pages import PAGES, Page
from tests.fuzz.pages import LIKELY, Form, forms_in, sent, unique, with_odd
from tests.pseudo.clubs import Clubs, clubs
from tests.pseudo.language import spoken
from tests.pseudo.walking import client_of, left_in, left_of, told
from tests.words.shown import visible

PORTIONS = {f"every fourth from {number}": PAGES[number::4] for number in range(4)}
# What a form carries along, by which the server knows what it was made for.
CARRIED = {"csrfmiddlewaretoken", "version", "seen", "do", "next", "kind", "which"}


@pytest.mark.sweep
@pytest.mark.parametrize("portion", PORTIONS)
def test_every_text_of_a_page_can_be_translated(portion: str, demo_database) -> None:
    own, found = clubs(), {}
    for page in PORTIONS[portion]:
        path, client = page.path(), client_of(page.who)
        client.get(path)  # in English first: nothing of it may be remembered
        with spoken():
            answer = client.get(path)
        for left in left_of(answer, own):
            found.setdefault(left, page.name)
    assert not found, told(found)


@pytest.mark.sweep
@pytest.mark.parametrize("portion", PORTIONS)
def test_every_answer_to_a_form_can_be_translated(portion: str, demo_database, settings) -> None:
    """Sent as it stands, then with a question mark in each field; what it changes is taken back."""
    # Some forms write a session for each of many weeks, one after the other.
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    own, found, sent_already = clubs(LIKELY.values()), {}, set()
    for page in PORTIONS[portion]:
        for form in _forms(page):
            key = form.action.rstrip("/").rpartition("/")[2], tuple(form.names)
            if key in sent_already:
                continue
            sent_already.add(key)
            for odd in ({}, {name: "?" for name in form.names if name not in CARRIED}):
                for left in _left_of_form(page, form, odd, own):
                    found.setdefault(left, f"{page.name}, {form.action}")
    assert sent_already
    assert not found, told(found)


def _forms(page: Page) -> list[Form]:
    path = page.path()
    html = client_of(page.who).get(path).content.decode()
    return [each for each in unique(forms_in(html, path)[0]) if each.method == "post"]


def _left_of_form(page: Page, form: Form, odd: dict[str, str], own: Clubs) -> list[str]:
    body = sent(with_odd(form, odd, form.buttons[0] if form.buttons else None))
    with transaction.atomic(), spoken():
        answer = client_of(page.who).post(
            form.action, body, content_type="application/x-www-form-urlencoded", follow=True
        )
        found = list(left_of(answer, own))
        transaction.set_rollback(True)
    return found


@pytest.mark.sweep
def test_every_text_on_paper_can_be_translated(demo_database, monkeypatch) -> None:
    from sessions.api import sheet
    from sessions.models import TrainingSession

    own, found, printed = clubs(), {}, []
    for name in ("pdf", "turns_pdf"):
        monkeypatch.setattr(sheet, name, lambda values, *more: (printed.append(asdict(values)), b"%PDF")[1])
    client, turns = client_of(DIRECTOR), addresses.station_turns()
    ids = TrainingSession.objects.order_by("period").values_list("public_id", flat=True)
    paths = [*(f"/sessions/{each}/sheet.pdf" for each in ids[:40]), turns.removesuffix("/") + ".pdf"]
    for path in paths:
        with spoken():
            answer = client.get(path)
        assert (path, answer.status_code) == (path, 200)
        for left in left_in(_texts(printed[-1]), own):
            found.setdefault(left, path)
    assert len(printed) == len(paths)
    assert not found, told(found)


def _texts(value: Any) -> Any:
    if isinstance(value, str):
        # A name on a plan stands in several lines.
        yield " ".join(visible(value)) if value.startswith("<svg") else value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _texts(each) if key not in ("link", "lang") else ()
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)
