"""Words of what is said once a session is over, and of registers that phones took apart; the phone says the same."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.translation import gettext_lazy

from club.letters import isolated
from drills.pages.words import effort_words
from sessions.planning.fold.bodies import AgainAnswer
from sessions.queries.recorded.apart import WordOfPhone
from sessions.queries.squad_context import local

# The anchors of the CR10 scale that a coach is asked in; the rest stands in the detail.
# Foster et al. 2001, J Strength Cond Res 15(1):109–115, as in `bibrack/meanings.py`.
ASKED = (2, 3, 4, 5, 7)

AGAIN: Mapping[AgainAnswer, Any] = {
    "yes": gettext_lazy("yes"),
    "change": gettext_lazy("change it"),
    "no": gettext_lazy("no"),
}
STATES: Mapping[str, Any] = {
    "here": gettext_lazy("here"),
    "late": gettext_lazy("late"),
    "left": gettext_lazy("left"),
    "watching": gettext_lazy("watching"),
    "absent": gettext_lazy("not here"),
}
APART: Mapping[str, Any] = {
    "phone_of": gettext_lazy("{name}'s phone"),
    "another_phone": gettext_lazy("Another phone"),
    "phone_said": gettext_lazy("{phone}: {word} at {time}."),
    "counts": gettext_lazy("Counts: {word}."),
}


# What the scale calls the values beside them; 6, 8 and 9 have no word of their own.
BESIDE: Mapping[int, Any] = {
    0: gettext_lazy("rest"),
    1: gettext_lazy("very, very easy"),
    10: gettext_lazy("maximal"),
}


def asked_efforts() -> list[tuple[int, str]]:
    """The five answers to "How hard was it?": value and word."""
    return [(value, effort_words(float(value))) for value in ASKED]


def exact_efforts() -> list[tuple[int, str]]:
    """All of the scale with its words, empty where it has none."""
    words = {**dict(asked_efforts()), **{value: str(word) for value, word in BESIDE.items()}}
    return [(value, words.get(value, "")) for value in range(11)]


def said_apart(words: Sequence[WordOfPhone]) -> str:
    """What each phone said of a player, and what counts: `Kim's phone: here at 18:02. … Counts: not here.`"""
    told = [
        str(APART["phone_said"]).format(
            phone=_phone(each.by), word=STATES[each.state], time=f"{local(each.at):%H:%M}"
        )
        for each in words
    ]
    counts = [str(APART["counts"]).format(word=STATES[each.state]) for each in words if each.counts]
    return " ".join([*told, *counts])


def _phone(name: str) -> str:
    if not name:
        return str(APART["another_phone"])
    return str(APART["phone_of"]).format(name=isolated(name))
