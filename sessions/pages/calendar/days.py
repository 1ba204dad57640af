"""Matches and closed days ahead, and what becomes of the rows of a file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club.actor import Actor
from sessions.queries.calendar.games import fixtures_between
from sessions.queries.calendar.taking import Judged, closed_between

if TYPE_CHECKING:
    from sessions.models import ClosedDays, Fixture


@dataclass(frozen=True)
class MatchLine:
    """A match ahead, and whether this person may call it off."""

    row: Fixture
    may_call_off: bool


@dataclass(frozen=True)
class DaysPage:
    """What is ahead, soonest first."""

    matches: list[tuple[date, list[MatchLine]]]  # by day
    closed: list[ClosedDays]


def days_page(actor: Actor) -> DaysPage:
    """Three queries."""
    today = club.today()
    groups = {each.pk: each.age_group_id for each in club.squads()}
    lines = [
        MatchLine(each, not each.is_off and actor.plans_for(groups.get(each.squad_id)))
        for each in fixtures_between(today)
    ]
    return DaysPage(
        matches=[(day, list(rows)) for day, rows in groupby(lines, key=lambda line: line.row.day)],
        closed=closed_between(today),
    )


@dataclass(frozen=True)
class RowLine:
    """What is said of a row: its outcome in a word, and the reason where it can't be taken."""

    judged: Judged
    word: str

    @property
    def is_refused(self) -> bool:
        return self.judged.outcome == "refused"


@dataclass(frozen=True)
class TakingPage:
    """Every row with what becomes of it."""

    lines: list[RowLine]
    takes: int
    refused: int
    over: int


def taking_page(judged: Iterable[Judged], *, over: int) -> TakingPage:
    """No query."""
    words = {
        "new": _("new"),
        "changed": _("changed"),
        "there": _("already there"),
        "refused": _("can’t be taken"),
    }
    lines = [RowLine(each, words[each.outcome]) for each in judged]
    counts = Counter(each.judged.outcome for each in lines)
    return TakingPage(lines, counts["new"] + counts["changed"], counts["refused"], over)


def taken_words(judged: Sequence[Judged]) -> str:
    """What a save did, in one sentence."""
    counts = Counter(each.outcome for each in judged)
    saved = counts["new"] + counts["changed"]
    said = [ngettext("%(n)d saved", "%(n)d saved", saved) % {"n": saved}]
    if counts["there"]:
        said.append(_("{n} already there").format(n=counts["there"]))
    if counts["refused"]:
        said.append(_("{n} can’t be taken").format(n=counts["refused"]))
    return ", ".join(said) + "."
