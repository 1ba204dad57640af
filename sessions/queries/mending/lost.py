"""Something that can't be had for some time: a pitch, or a coach."""

from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import Any

LONGEST_DAYS = 28
SECONDS = 4.0  # for a search, which mostly takes a fraction of one
WHOLE_DAY = (0, 24 * 60)


@dataclass(frozen=True)
class Lost:
    """`what` (a pitch, or a person) is lost from a day to another, both included, between two times (None: all day)."""

    what: Any
    first: date
    last: date
    starts: time | None = None
    ends: time | None = None

    @property
    def days(self) -> list[date]:
        return [self.first + timedelta(days=n) for n in range((self.last - self.first).days + 1)]

    @property
    def span(self) -> tuple[int, int]:
        """From and to, in minutes after midnight."""
        if self.starts is None or self.ends is None:
            return WHOLE_DAY
        return minute_of(self.starts), minute_of(self.ends)

    def number(self, day: date) -> int:
        """A day as the planner has it: the first is 0."""
        return (day - self.first).days

    def meets(self, day: date, starts: time, ends: time) -> bool:
        """Whether it is lost at some of a time."""
        begins, stops = self.span
        return self.first <= day <= self.last and minute_of(starts) < stops and begins < minute_of(ends)


def minute_of(at: time) -> int:
    return at.hour * 60 + at.minute


def clock_of(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)
