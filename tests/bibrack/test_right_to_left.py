"""Names written from right to left stand isolated: what is beside them keeps its order (Unicode Annex 9)."""

import re
from html.parser import HTMLParser
from typing import Any

import pytest
from django.test import Client

from tests.browser.pages import PAGES

PERSON, PLAYER, TEAM = "אבי כהן", "נועה ל", "צפרירים"
NAMES = (PERSON, PLAYER, TEAM)
ISOLATED = re.compile("\u2068[^\u2069]*\u2069")
ALONE = {"option", "title", "bdi", "textarea"}


class _Texts(HTMLParser):
    """Each text with the elements around it, and what else is written in its own element."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[list[Any]] = []
        self.bad: list[str] = []

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        if tag in {"input", "br", "meta", "link", "img", "hr", "col"}:
            return
        for each in self.open[-1:]:
            each[2].append("<>")
        self.open.append([tag, dict(attrs), []])

    def handle_data(self, data: str) -> None:
        if self.open:
            self.open[-1][2].append(data)

    def handle_endtag(self, tag: str) -> None:
        while self.open:
            name, attrs, texts = self.open.pop()
            whole = ISOLATED.sub("", "".join(texts)).strip()
            named = any(each in whole for each in NAMES)
            if named and whole not in NAMES and name not in ALONE and attrs.get("dir") != "auto":
                self.bad.append(f"{name}: {whole[:80]!r}")
            if name == tag:
                return


@pytest.mark.sweep
def test_a_name_is_isolated_wherever_other_words_stand_beside_it(demo_database: Any, settings: Any) -> None:
    from club.models import Player, Squad, User

    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    paths = [(page, page.path()) for page in PAGES]
    User.objects.update(name=PERSON)
    Player.objects.update(display_name=PLAYER)
    Squad.objects.filter(name="Herons").update(name=TEAM)
    bad: dict[str, set[str]] = {}
    for page, path in paths:
        client = Client()
        if page.who:
            client.force_login(
                User.objects.get(email=page.who), backend="django.contrib.auth.backends.ModelBackend"
            )
        reader = _Texts()
        reader.feed(client.get(path).content.decode())
        for each in reader.bad:
            bad.setdefault(each, set()).add(page.name)
    assert not bad, "\n".join(
        f"{each}  ({', '.join(sorted(names)[:3])})" for each, names in sorted(bad.items())
    )
