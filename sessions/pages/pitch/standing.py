"""For how many a part stands, and why that is not for tonight any more: as the phone keeps it between two signals."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext as _

from drills.game.reasons import Reason
from drills.game.wording.catalogue import CATALOGUE
from sessions.queries.set_up import set_up_for

if TYPE_CHECKING:
    from sessions.models import Part

NUMBERS = "other_numbers"


@dataclass(frozen=True)
class Standing:
    """`stale` are all reasons for as many players as the server counted; `beside_numbers` those that stay for any number."""

    set_for: int | None
    stale: list[str]
    beside_numbers: list[str]


def standing_of(part: Part, stale: Iterable[tuple[Reason, ...]]) -> Standing:
    """Of the stations of a part together, each sentence once. No query."""
    reasons = {each.said(_): each.key for found in stale for each in found}
    return Standing(
        set_for=set_up_for(part),
        stale=list(reasons),
        beside_numbers=[text for text, key in reasons.items() if key != NUMBERS],
    )


def numbers_words() -> dict[str, str]:
    """What the phone says by itself when the register changes: for one, and for more."""
    entry = CATALOGUE[NUMBERS]
    return {"stale_one": str(entry.one), "stale_many": entry.text}
