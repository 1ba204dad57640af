"""The set-up plan of a session in words: what is laid before the start, while a part is played, and in each changeover."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drills.choices import kit_word
from drills.game.playable import BIG_GOALS
from drills.game.wording import text_of
from sessions.planning.clock import clock_text, later
from sessions.planning.kit import needed_at_once
from sessions.planning.laying import Lay, When, half_minutes
from sessions.planning.laying.things import HANDED_OUT
from sessions.queries.plan import SessionView


@dataclass(frozen=True)
class LayLine:
    """One time at which something is laid. `part` is the number of the part that it is for; `what` names the kit."""

    when: When
    starts_at: datetime
    part: int
    what: str
    adults: int
    minutes: float
    heading: str

    @property
    def clock(self) -> str:
        return clock_text(self.starts_at)

    @property
    def text(self) -> str:
        """As a line of its own, behind the time on the clock."""
        who = ngettext("{n} adult", "{n} adults", self.adults).format(n=self.adults)
        text = _("{when}, for part {part}: {what} ({who}, {minutes} min)")
        return text.format(
            when=self.heading, part=self.part, what=self.what, who=who, minutes=f"{self.minutes:g}"
        )


def laying_lines(view: SessionView) -> list[LayLine]:
    """Everything that is laid, in order of time."""
    found = []
    moment = view.timetable.set_up_from
    for each in view.laying.lays:
        starts_at = _starts_at(view, each) or moment
        if each.when == "before":
            moment = later(starts_at, timedelta(seconds=each.seconds))
        found.append(
            LayLine(
                when=each.when,
                starts_at=starts_at.replace(second=0, microsecond=0),
                part=each.part + 1,
                what=things(each.kit) or _("what the drill names"),
                adults=each.adults,
                minutes=half_minutes(each.seconds),
                heading=_heading(each),
            )
        )
    return sorted(found, key=lambda line: line.starts_at)


def _starts_at(view: SessionView, each: Lay) -> datetime | None:
    """When it begins; None before the start, where one thing follows the other."""
    times = view.timetable.parts[each.at]
    if each.when == "during":
        return times.starts_at
    if each.when == "changeover":
        return later(times.starts_at, -timedelta(seconds=view.plan.parts[each.at].changeover_s))
    return None


def _heading(each: Lay) -> str:
    if each.when == "before":
        return _("Before the start")
    if each.when == "during":
        return _("While part {n} is on").format(n=each.at + 1)
    return _("In the changeover")


def goals_caution(view: SessionView) -> str:
    """What to mind where goals on wheels or frames are moved; empty where none is. Common practice, no source."""
    if not any(BIG_GOALS in each.kit for each in view.laying.lays):
        return ""
    return _(
        "Two adults carry a goal, never children, and it is weighed down before anyone plays. "
        "Your association's own rules come first."
    )


def part_laying(view: SessionView) -> list[str]:
    """For each part, in a sentence or two: what stands already, and what is laid for it when."""
    return [" ".join(_sentences(view, index)) for index in range(len(view.parts))]


def _sentences(view: SessionView, index: int) -> Iterator[str]:
    if stays := things(view.laying.stays(index)):
        yield _("Already set up: {things}.").format(things=stays)
    for each in view.laying.laid_for(index):
        if kit := things(each.kit):
            text = _("{when}: {things} ({minutes} min).")
            yield text.format(when=_heading(each), things=kit, minutes=f"{half_minutes(each.seconds):g}")


def fetched(view: SessionView, index: int) -> dict[str, int]:
    """What has to be fetched in the changeover into a part: what is laid then, and bibs and balls that nobody has yet."""
    found: dict[str, int] = {}
    for each in view.laying.laid_at("changeover", index):
        found |= each.kit
    before = needed_at_once(view.plan.parts[index - 1].station_kit) if index else {}
    for kind, count in needed_at_once(view.plan.parts[index].station_kit).items():
        if kind in HANDED_OUT and count > before.get(kind, 0):
            found[kind] = count - before.get(kind, 0)
    return dict(sorted(found.items()))


def kit_lines(kit: Mapping[str, int], goals: str = "") -> list[str]:
    """`12 marker cones`, a line for each kind; goals of a match with their size, where it is given."""
    return [
        f"{count} {kit_word(kind, count)}" + (f", {goals}" if goals and kind == BIG_GOALS else "")
        for kind, count in kit.items()
    ]


def goals_size(view: SessionView) -> str:
    """How large the goals are that are carried, `3.66 × 1.83 m (12 × 6 ft)`; empty where none of a match stands."""
    every = (station.tonight for part in view.parts for station in part.stations)
    found = next((each for each in every if each is not None and each.has_own_goals), None)
    return "" if found is None or found.goal is None else text_of(found.goal.said, _)


def things(kit: Mapping[str, int]) -> str:
    """The same in one line; empty for none."""
    return ", ".join(kit_lines(kit))
