"""The phone folds what happened as the server does: the same cases, and made-up evenings."""

from collections.abc import Callable
from typing import Any

from django.templatetags.static import static

from tests.browser.at_the_pitch import Pitch
from tests.sessions.planning.folding_alike import (
    CASES,
    IN_THE_SAME_WORDS,
    KEYS,
    SIX,
    as_shown,
    by_server,
    made_up,
)

EVENINGS = 300
FOLD = f"""async ([url, evenings, keys, six]) => {{
  const {{ counted, fold, playing }} = await import(url);
  const said = {IN_THE_SAME_WORDS.strip()};
  return evenings.map((events) => said(fold(events, keys), six, playing, counted));
}}"""


def test_the_phone_folds_as_the_server_does(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("register")
    cases: list[list[dict[str, Any]]] = [each["events"] for each in CASES]
    cases += [made_up(seed) for seed in range(EVENINGS)]
    url = static("sessions/pitch/fold.js")
    shown = [as_shown(events) for events in cases]
    found = phone.page.evaluate(FOLD, [url, shown, list(KEYS), SIX.timestamp() * 1000])
    for events, phones in zip(cases, found, strict=True):
        assert said_by_phone(phones) == by_server(events), events


def said_by_phone(state: dict[str, Any]) -> dict[str, Any]:
    """A state that a phone told, without what it leaves undefined."""
    return _said({**state, "parts": {key: _said(part) for key, part in state["parts"].items()}})


def _said(values: dict[str, Any]) -> dict[str, Any]:
    """What a phone leaves undefined arrives as None."""
    return {name: value for name, value in values.items() if value is not None}
