"""What stands on a sheet, in the reader's language already. No text here is ever read as markup.

Clock times are text as people say them (`18:05–18:09`). A sheet names adults and bibs, never a player.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Picture:
    """An SVG picture with its text alternative, and what is written below it."""

    svg: str
    alt: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class CoachingQuestion:
    """A coaching question: of whom and when, what, and what to listen for."""

    who: str
    when: str
    ask: str
    listen: str


@dataclass(frozen=True, slots=True)
class SheetTeam:
    """A group by its name and bib; `place` is where it begins, `grid` which grid that is where there are several."""

    bib: str
    players: int
    name: str
    place: str
    grid: str = ""


@dataclass(frozen=True, slots=True)
class SheetTurn:
    """One bout by the clock; who is where, by bib, as far as whole teams go round."""

    number: int
    clock: str
    inside: str = ""
    outside: str = ""
    resting: str = ""


@dataclass(frozen=True, slots=True)
class IfTooEasyOrHard:
    """What to do when it is too easy, too hard, or chaos: one sentence each, empty for none."""

    easy: str = ""
    hard: str = ""
    chaos: str = ""


@dataclass(frozen=True, slots=True)
class SheetStation:
    """One drill as it is played: `numbers` is its headline, `size` what its grid is for, `line` who is there with which adult."""

    title: str
    rung: str = ""
    line: str = ""
    numbers: str = ""
    size: str = ""
    condition: str = ""  # the rule that play is about
    start: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()  # every other rule, score and restart, whole
    colours: tuple[str, ...] = ()  # which grid wears other bibs than those that are spoken of
    rotation: str = ""
    coach_place: str = ""
    praise: str = ""
    kit: str = ""
    teams: tuple[SheetTeam, ...] = ()
    turns: tuple[SheetTurn, ...] = ()
    say: tuple[str, ...] = ()
    points: tuple[tuple[str, str], ...] = ()
    asks: tuple[CoachingQuestion, ...] = ()
    safety: tuple[str, ...] = ()
    ladder: IfTooEasyOrHard = IfTooEasyOrHard()
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetPart:
    """One part on the clock; `clocks` are its bouts, `stays` what stands already and what is laid for it when."""

    number: int
    title: str
    kind: str
    clock: str
    bouts: str
    effort: str
    clocks: tuple[str, ...] = ()
    stays: str = ""
    groups: str = ""
    stations: tuple[SheetStation, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetStart:
    """What a volunteer reads first: what to carry, where to pace from, and the part that matters most."""

    kit: tuple[str, ...] = ()
    pace: tuple[str, ...] = ()
    of: str = ""
    say: tuple[str, ...] = ()
    praise: str = ""
    ladder: IfTooEasyOrHard = IfTooEasyOrHard()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A session on paper. `facts` are label and value; `safety` is advice and its source; `labels` are fixed words."""

    lang: str
    club: str
    title: str
    squad: str
    when: str
    place: str
    people: str
    facts: tuple[tuple[str, str], ...]
    start: SheetStart
    parts: tuple[SheetPart, ...]
    safety: tuple[tuple[str, str], ...]
    link: str
    stamp: int  # seconds since 1970: the day of the session, so that the same content gives the same bytes
    labels: Mapping[str, str] = field(default_factory=dict)
    emergency: tuple[tuple[str, str], ...] = ()  # label and text
    section: Picture | None = None
    ground: tuple[Picture, ...] = ()
    happened: tuple[str, ...] = ()  # of a session that is done
