"""Putting sessions together: those that run at the same time, and who may be asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.translation import gettext as _

from club.actor import Actor
from sessions.queries.rows import zones_of
from sessions.queries.together import Companion, at_the_same_time, companions

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class TogetherPage:
    """`others` may be put together with it by whoever asks; `foreign` are those of age groups that are somebody else's."""

    with_it: list[Companion]
    others: list[TrainingSession]
    foreign: list[TrainingSession]


def together_page(actor: Actor, session: TrainingSession) -> TogetherPage:
    """One query beyond the session's own."""
    found = list(at_the_same_time(session))
    mine = [each for each in found if actor.plans_for(each.age_group_id)]
    return TogetherPage(companions(session), mine, [each for each in found if each not in mine])


def shared_words(session: TrainingSession) -> str:
    """`Yours of North: strip 1 of 2, counted from the near side.` for each zone that is shared on purpose. No query."""
    words = _("Yours of {zone}: strip {at} of {shares}, counted from the near side.")
    return " ".join(
        words.format(zone=each["zone"], at=each["share_at"] + 1, shares=each["shares"])
        for each in zones_of(session)
        if each["shares"] > 1
    )
