"""Ask for a page, send a form or call the API, and see what of the answer could not be said in another language."""

import json
import re
from collections.abc import Iterator
from typing import Any

from django.test import Client

from tests.pseudo.clubs import Clubs
from tests.pseudo.language import outside
from tests.words.shown import visible

# What of an answer in JSON people read. The title of a problem is the phrase of its status (RFC 9457, 4.2.1).
SAID = {"detail", "text", "says", "message", "words"}
# Whoever wrote the program that sent it reads what is wrong with a body that can't be decoded, in the decoder's own words.
DECODER = re.compile(r"(?:\w+: )?(?:Expected `|Object |Invalid |JSON is |missing\b|.* - at `\$)")


def client_of(email: str) -> Client:
    from club.models import User

    client = Client()
    if email:
        client.force_login(User.objects.get(email=email), backend="django.contrib.auth.backends.ModelBackend")
    return client


def left_of(answer: Any, own: Clubs) -> Iterator[str]:
    """The words of an answer that are neither of the catalogue nor the club's."""
    kind = answer.get("Content-Type", "")
    if "html" in kind:
        yield from left_in(visible(answer.content.decode()), own)
    elif "json" in kind:
        yield from left_in(_read(json.loads(answer.content)), own)


def left_in(texts: Any, own: Clubs) -> Iterator[str]:
    for text in texts:
        yield from filter(None, map(own.left, outside(text)))


def _read(value: Any, name: str = "") -> Iterator[str]:
    if isinstance(value, str) and name in SAID:
        yield "" if DECODER.match(value) else value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _read(each, key)
    elif isinstance(value, list):
        for each in value:
            yield from _read(each, name)


def told(found: dict[str, str]) -> str:
    """One finding a line, with where it was first."""
    return "\n".join(["", *(f"{left}   ({where})" for left, where in sorted(found.items()))])
