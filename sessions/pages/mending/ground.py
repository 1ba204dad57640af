"""A pitch is lost, on one page: what is hit, what could become of it, and what to tell the parents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.actor import Actor
from club.letters import isolated
from sessions.queries.mending.ground import GroundStep, PitchLost, mend_pitch
from sessions.queries.rows import expected_of, place_words, zone_words, zones_of

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class StepShown:
    """One change in words. `can` says whether it can be done from here; `first` names teams whose change is done with it."""

    step: GroundStep
    team: str
    was: str
    becomes: str
    spaces: str  # where there are fewer than there were
    first: list[str]
    may: bool
    can: bool


@dataclass(frozen=True)
class PitchLostPage:
    """`seen` stands for these very changes: what is accepted is what was shown."""

    lost: PitchLost
    hit: int
    steps: list[StepShown]
    summary: list[str]
    is_best: bool
    is_closed: bool
    left: list[str]  # teams for which nothing was found in time
    chat: str  # if all of it is done
    seen: str

    @property
    def may_all(self) -> bool:
        return len(self.steps) > 1 and all(each.may and each.can for each in self.steps)


def pitch_lost_page(actor: Actor, lost: PitchLost) -> PitchLostPage:
    """The queries of `mend_pitch`."""
    found = mend_pitch(lost)
    steps = [_shown(actor, each, found.steps) for each in found.steps]
    changed = {each.session.pk for each in found.steps}
    return PitchLostPage(
        lost=lost,
        hit=len(found.hit),
        steps=steps,
        summary=_summary(found.steps),
        is_best=found.found.proven,
        is_closed=found.is_closed,
        left=[team_of(each) for each in found.hit if each.pk not in changed],
        chat=told(found.steps),
        seen=seen_of(found.steps),
    )


def steps_asked(lost: PitchLost, session: str, seen: str) -> list[GroundStep] | None:
    """The change of one session after those that it needs, or all (`session` empty); None where they are others than were seen."""
    steps = mend_pitch(lost).steps
    if seen_of(steps) != seen:
        return None
    if not session:
        return steps
    wanted = {session}
    for each in reversed(steps):
        if str(each.session.public_id) in wanted:
            wanted |= {str(row.public_id) for row in each.beside}
    found = [each for each in steps if str(each.session.public_id) in wanted]
    return found if any(str(each.session.public_id) == session for each in found) else None


def seen_of(steps: Sequence[GroundStep]) -> str:
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


def team_of(row: TrainingSession) -> str:
    return f"{row.age_group.label} {isolated(row.squad.name)}"


def _shown(actor: Actor, step: GroundStep, steps: Sequence[GroundStep]) -> StepShown:
    row = step.session
    needed = _needed(step, steps)
    may = all(actor.plans_for(each.session.age_group_id) for each in (step, *needed))
    return StepShown(
        step=step,
        team=team_of(row),
        was=f"{_day(row.day)}, {row.starts:%H:%M}–{row.ends:%H:%M}, {place_words(row)}",
        becomes=_becomes(step),
        spaces=_spaces(step),
        first=[team_of(each.session) for each in needed],
        may=may,
        can=all(each.is_off or each.zones for each in (step, *needed)),
    )


def _spaces(step: GroundStep) -> str:
    had = len(zones_of(step.session))
    if step.is_off or not 0 < len(step.zones) < had:
        return ""
    words = ngettext("%(now)d space instead of %(had)d", "%(now)d spaces instead of %(had)d", len(step.zones))
    return words % {"now": len(step.zones), "had": had}


def _needed(step: GroundStep, steps: Sequence[GroundStep]) -> list[GroundStep]:
    by_pk = {each.session.pk: each for each in steps}
    found: dict[int, GroundStep] = {}
    left = [row.pk for row in step.beside]
    while left:
        pk = left.pop()
        if pk not in found and pk in by_pk:
            found[pk] = by_pk[pk]
            left += [row.pk for row in by_pk[pk].beside]
    return [each for each in steps if each.session.pk in found]


def _becomes(step: GroundStep) -> str:
    if step.is_off:
        return _("is off: no space, nor another evening, was found")
    place = _place(step.zones) or _("a space there that you choose")
    times = f"{step.starts:%H:%M}–{step.ends:%H:%M}"
    if step.code == "moved":
        return _("moves to {day}, {times}, {place}").format(day=_day(step.day), times=times, place=place)
    if step.code == "half":
        return _("half the time: {times}, {place}").format(times=times, place=place)
    if step.code == "gives":
        return _("keeps {place} and gives the rest").format(place=place)
    return _("same time, {place}").format(place=place)


def told(steps: Sequence[GroundStep]) -> str:
    """For the parents' chat, a line for each team: the day that they know, and what is new of it. No names of people."""
    return "\n".join(_told(each) for each in steps)


def _told(step: GroundStep) -> str:
    row = step.session
    words: dict[str, str] = {"team": team_of(row), "day": _day(row.day), "time": f"{row.starts:%H:%M}"}
    words |= {
        "new": _day(step.day),
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


def _summary(steps: Sequence[GroundStep]) -> list[str]:
    """How many players it means, the worst first."""

    def players(code: str) -> int:
        return sum(expected_of(each.session) for each in steps if each.code == code)

    off, moved = players("off"), players("moved")
    lost = sum(each.lost_minutes for each in steps if not each.is_off)
    found = [
        ngettext("%(n)d player has no session.", "%(n)d players have no session.", off) % {"n": off}
        if off
        else _("Everybody trains.")
    ]
    if moved:
        words = ngettext("%(n)d player comes on another day.", "%(n)d players come on another day.", moved)
        found.append(words % {"n": moved})
    if lost:
        found.append(_("{n} minutes of sessions are lost.").format(n=lost))
    return found


def _day(day: Any) -> str:
    return date_format(day, "D j M")
