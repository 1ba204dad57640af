"""No text of the source, and no page of the demo club, says a word that has a better one."""

import re

import pytest
from django.test import Client

from tests.browser.pages import PAGES
from tests.words.shown import visible
from tests.words.source import texts
from tests.words.table import RULES, breaches

# What was said once, and must be found if somebody says it again.
SAID_ONCE = (
    "Another squad for Ada",
    "Another figure",
    "6 bouts of 3 min",
    "Rungs of the ladder",
    "the turn-out",
    "Changing over before",
    "Turns of standing out differ",
    "Two rest in turn",
    "n waits in turn",
    "30 m² area each",
    "with a joker",
    "a wall player",
    "two neutrals",
    "A duel",
    "on the end lines",
    "Nothing has been delivered yet",
    "Take this link back",
    "Take away",
    "Take the library along",
    "Take it off",
    "Withdraw the invitation",
    "Let it go",
    "End it",
    "the largest piece that is booked",
    "how long the free ground is",
    "fit the part to who is here",
    "Mind the fence",
    "No reason is kept.",
    "Keep no longer",
    "Put it together for me",
    "The squad stands. Now its players.",
    "Sessions that stand already",
    "What the figures lean on",
    "Days with something on",
    "distance from the drill 0.53",
    "Of the drawing, not here",
    "shut at first",
    "How it is kept",
    "These say something spelt nearly so.",
    "Open at the pitch",
    "Propose again with these ticks",
    "This stands in the way",
    "Keepers apart",
    "Before the clock",
    "Count again",
    "So far",
    "Orders of parts",
    "The rest are here",
    "Hold for part 2",
    "Give out a slot",
    "No names, no health",
    "To the first page",
    "The heart of it",
    "chosen anew",
)


def test_no_text_of_the_source_says_what_has_a_better_word() -> None:
    found = {f"{text}: {each}" for text in texts() for each in breaches(text.where, text.said)}
    assert not found, "\n".join(["", *sorted(found)])


def test_every_source_of_texts_is_read() -> None:
    found = texts()
    for start in (
        "club/forms/",
        "sessions/planning/catalogue",
        "drills/game/wording/catalogue/",
        "bibrack/views.py",
        "templates/",
    ):
        assert sum(text.where.startswith(start) for text in found) > 5, start
    for said in ("Keepers separate", "Set up for your numbers", "Save this password"):
        assert any(said in text.said for text in found), said
    assert any(text.where.split(":")[0].endswith(".js") for text in found)
    assert any(text.where.startswith("bibrack/demo/drills/") for text in found)


@pytest.mark.parametrize("said", SAID_ONCE)
def test_what_was_said_once_is_found(said: str) -> None:
    assert breaches("", said)


def test_a_zone_is_a_part_of_a_grid_and_never_what_is_booked() -> None:
    assert breaches("club/forms/places.py", "Zones are what teams book.")
    assert breaches("/club/pitches/", "Add the zone")
    assert not breaches("drills/forms/rows.py", "Add a zone")
    assert not breaches("club/forms/club.py", "Time zone")


def test_every_rule_finds_something_that_was_said_once() -> None:
    idle = [
        rule.pattern
        for rule in RULES
        if not rule.of
        and not any(re.search(rf"\b(?:{rule.pattern})", each, re.IGNORECASE) for each in SAID_ONCE)
    ]
    assert not idle, "\n".join(["", *idle])


def test_every_exception_is_needed() -> None:
    said = [text.said for text in texts()]
    idle = [
        each
        for rule in RULES
        for each in rule.but
        if not any(
            re.search(each, text, re.IGNORECASE) and re.search(rule.pattern, text, re.IGNORECASE)
            for text in said
        )
    ]
    assert not idle, "\n".join(["", *idle])


def test_no_page_says_what_has_a_better_word(demo_database, settings) -> None:
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    found = set()
    for page in PAGES:
        answer = _client(page.who).get(path := page.path())
        assert answer.status_code < 500, page.name
        for text in visible(answer.content.decode()):
            found |= {f"{page.name}: {text}: {each}" for each in breaches(path, text)}
    assert not found, "\n".join(["", *sorted(found)])


def _client(email: str) -> Client:
    from club.models import User

    client = Client()
    if email:
        client.force_login(User.objects.get(email=email), backend="django.contrib.auth.backends.ModelBackend")
    return client
