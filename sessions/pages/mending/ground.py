"""A pitch is lost, on one page: what is hit, what could become of it, and what to tell the parents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.actor import Actor
from sessions.pages.mending.shown import (
    ChangeShown,
    ChangesShown,
    asked_of,
    day_words,
    needed_by,
    players_words,
    team_of,
    told,
)
from sessions.queries.mending.ground import GroundStep, mend_pitch
from sessions.queries.mending.lost import Lost
from sessions.queries.rows import place_words, zone_words, zones_of


@dataclass(frozen=True)
class PitchLostPage:
    lost: Lost
    changes: ChangesShown
    is_closed: bool


def pitch_lost_page(actor: Actor, lost: Lost) -> PitchLostPage:
    """The queries of `mend_pitch`."""
    found = mend_pitch(lost)
    changed = {each.session.pk for each in found.steps}
    changes = ChangesShown(
        hit=len(found.hit),
        steps=[_shown(actor, each, found.steps) for each in found.steps],
        summary=players_words(found.steps),
        is_best=found.found.proven,
        left=[team_of(each) for each in found.hit if each.pk not in changed],
        chat=pitch_told(found.steps),
        seen=_seen(found.steps),
    )
    return PitchLostPage(lost, changes, found.is_closed)


def pitch_steps(lost: Lost, session: str, seen: str) -> list[GroundStep]:
    """What is done for one session, or for all (`session` empty); nothing where the changes are others than were seen."""
    steps = mend_pitch(lost).steps
    return asked_of(steps, session) if _seen(steps) == seen else []


def pitch_told(steps: Sequence[GroundStep]) -> str:
    """A line for each team: the day that they know, and what is new of it. No names of people."""
    return told(steps, _told)


def _seen(steps: Sequence[GroundStep]) -> str:
    facts = [
        (
            each.session.pk,
            each.session.version,
            each.code,
            each.day,
            each.starts,
            each.ends,
            [zone.pk for zone in each.zones],
        )
        for each in steps
    ]
    return sha256(repr(facts).encode()).hexdigest()


def _shown(actor: Actor, step: GroundStep, steps: Sequence[GroundStep]) -> ChangeShown:
    row = step.session
    needed = needed_by(step, steps)
    return ChangeShown(
        session=row,
        team=team_of(row),
        was=f"{day_words(row.day)}, {row.starts:%H:%M}–{row.ends:%H:%M}, {place_words(row)}",
        becomes=_becomes(step),
        is_off=step.is_off,
        lost_minutes=step.lost_minutes,
        first=[team_of(each.session) for each in needed],
        may=all(actor.plans_for(each.session.age_group_id) for each in (step, *needed)),
        can=all(each.is_off or each.zones for each in (step, *needed)),
        notes=_spaces(step),
    )


def _spaces(step: GroundStep) -> list[str]:
    had = len(zones_of(step.session))
    if step.is_off or not 0 < len(step.zones) < had:
        return []
    words = ngettext("%(now)d space instead of %(had)d", "%(now)d spaces instead of %(had)d", len(step.zones))
    return [words % {"now": len(step.zones), "had": had}]


def _becomes(step: GroundStep) -> str:
    if step.is_off:
        return _("is off: no space, nor another evening, was found")
    place = _place(step.zones) or _("a space there that you choose")
    times = f"{step.starts:%H:%M}–{step.ends:%H:%M}"
    if step.code == "moved":
        return _("moves to {day}, {times}, {place}").format(day=day_words(step.day), times=times, place=place)
    if step.code == "half":
        return _("half the time: {times}, {place}").format(times=times, place=place)
    if step.code == "gives":
        return _("keeps {place} and gives the rest").format(place=place)
    return _("same time, {place}").format(place=place)


def _told(step: GroundStep) -> str:
    row = step.session
    words: dict[str, str] = {"team": team_of(row), "day": day_words(row.day), "time": f"{row.starts:%H:%M}"}
    words |= {
        "new": day_words(step.day),
        "times": f"{step.starts:%H:%M}–{step.ends:%H:%M}",
        "place": _place(step.zones),
    }
    if step.is_off:
        return _("{team}: no training on {day} ({time}), the pitch can’t be used.").format(**words)
    if step.code == "moved":
        return _("{team}: training of {day} is on {new} instead, {times}, {place}.").format(**words)
    if step.code == "half":
        return _("{team}: training on {day} is shorter, {times}, {place}.").format(**words)
    if step.code == "gives":
        return _("{team}: training on {day} as planned, on {place}; we make room for another team.").format(
            **words
        )
    return _("{team}: training on {day} is at {place}, same time ({times}).").format(**words)


def _place(zones: Sequence[Any]) -> str:
    return zone_words([{"pitch": each.pitch.name, "zone": each.name} for each in zones])
