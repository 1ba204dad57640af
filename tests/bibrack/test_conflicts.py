"""An action that is refused where no form stands to say so: the words and 409, never a broken page."""

from typing import Any

import pytest
from django.test import RequestFactory
from django.urls import reverse

from bibrack.middleware import Conflicts
from club.actor import NOBODY
from club.errors import Clash, Stale
from drills import actions
from tests.people import World, signed_in


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (Clash("Somebody else is saving here at this moment."), "Somebody else is saving here"),
        (Stale(theirs=None, version=2), "Somebody else changed this in the meantime."),
    ],
)
def test_it_is_said_in_words(db: None, error: Exception, words: str) -> None:
    request: Any = RequestFactory().get("/")
    request.actor = NOBODY
    answer = Conflicts(lambda _request: None).process_exception(request, error)  # type: ignore[arg-type, return-value]
    assert answer is not None
    assert (answer.status_code, words in answer.content.decode()) == (409, True)


def test_what_is_broken_stays_broken() -> None:
    error = ValueError("not a conflict")
    made = Conflicts(lambda _request: None)  # type: ignore[arg-type, return-value]
    assert made.process_exception(RequestFactory().get("/"), error) is None


def test_a_page_without_a_form_says_it_too(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    def busy(**_asked: Any) -> None:
        raise Clash("Somebody else is saving here at this moment.")

    monkeypatch.setattr(actions, "take_back_link", busy)
    anything = world.own.squad.public_id
    address = reverse("drills:share-end", args=[anything, anything])
    answer = signed_in(world.people.coach).post(address)
    assert answer.status_code == 409
    assert "Nothing was changed." in answer.content.decode()
