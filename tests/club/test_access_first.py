"""Whoever may not send something is told so before anybody reads what was sent."""

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http.multipartparser import MultiPartParser
from django.test import Client

from tests.people import People

pytestmark = pytest.mark.django_db
FORGED = "a" * 32


@pytest.mark.parametrize("who", ["nobody", "reader", "coach"])
def test_a_file_is_read_only_for_those_who_may_bring_it_in(
    who: str, people: People, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = []

    def parse(parser: Any) -> Any:
        read.append(who)
        return parse_really(parser)

    parse_really = MultiPartParser.parse
    monkeypatch.setattr(MultiPartParser, "parse", parse)
    browser = Client(enforce_csrf_checks=True)
    if who != "nobody":
        browser.force_login(getattr(people, who), backend="django.contrib.auth.backends.ModelBackend")
    browser.cookies["csrftoken"] = FORGED
    answer = browser.post(
        "/library/files/bring-in/",
        {"file": SimpleUploadedFile("a.json", b"[]"), "csrfmiddlewaretoken": FORGED},
    )
    assert (answer.status_code, read) == {
        "nobody": (302, []),
        "reader": (403, []),
        "coach": (200, ["coach"]),
    }[who]
