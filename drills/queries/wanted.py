"""What is looked for: one set of filters for the page and the API, with messages that a coach understands."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any

from django.utils.translation import gettext as _

from club import queries as club
from club import reading
from club.errors import FieldProblem
from club.limits import NUMBER
from drills.bridge import MOST_PLAYERS_SEARCHED
from drills.choices import DrillState, plural_of
from drills.game.document import Activity
from drills.game.evening import Evening, PlayerAges, players_of
from drills.game.fit.arrays import room_m
from drills.game.fit.kit import BIBS
from drills.game.playable import BALLS
from drills.game.rooms import MOST_KEEPERS
from drills.game.space import LONGEST_M


@dataclass(frozen=True)
class DrillSearch:
    """What is looked for. Lengths are the free space in metres, `minutes` the time there is, effort is CR10."""

    q: str = ""
    players: int | None = None
    keepers: int | None = None
    length: float | None = None
    width: float | None = None
    age_group: str = ""
    theme: str = ""
    activity: str = ""
    state: str = ""
    effort_max: float | None = None
    minutes: int | None = None
    kit: tuple[
        tuple[str, int], ...
    ] = ()  # what there is tonight, by kind; of kinds not named there is plenty
    mine: bool = False
    favourite: bool = False
    retired: bool = False
    ages: PlayerAges | None = field(default=None, compare=False)  # of the age group named
    adults: int | None = field(default=None, compare=False)

    @classmethod
    def on(cls, evening: Evening, **more: Any) -> "DrillSearch":
        """What runs on an evening, whoever keeps goal; its largest piece of ground without the least margins."""
        length, width = room_m(evening.ground[0]) if evening.pieces else (None, None)
        return cls(
            players=evening.players,
            length=length,
            width=width,
            ages=evening.ages,
            adults=evening.adults,
            **more,
        )

    @property
    def asks_for_room(self) -> bool:
        """Whether only what runs tonight is wanted."""
        named = (self.players, self.keepers, self.length, self.width)
        return bool(self.kit) or any(each is not None for each in named)

    @property
    def is_narrowed(self) -> bool:
        """Whether any filter is set."""
        return any(getattr(self, each.name) != each.default for each in fields(self) if each.compare)


class Reader:
    """Reads one parameter after another and collects what is wrong."""

    def __init__(self, params: Mapping[str, Any]) -> None:
        self.params = params
        self.problems: list[FieldProblem] = []

    def text(self, name: str) -> str:
        return reading.text(self.params.get(name))

    def wrong(self, name: str, text: str) -> None:
        self.problems.append(FieldProblem(name, text))

    def number(self, name: str, kind: Callable[..., Any], least: float, most: float, words: str) -> Any:
        text = self.text(name)
        if not text:
            return None
        value = kind(text, -NUMBER)
        if value is None:
            self.wrong(name, _("“{text}” is not a number.").format(text=text[:20]))
            return None
        if not least <= value <= most:
            self.wrong(name, words.format(least=f"{least:g}", most=f"{most:g}"))
            return None
        return value

    def one_of(self, name: str, values: Any, words: str) -> str:
        text = self.text(name)
        if text and text not in values:
            self.wrong(name, words.format(text=text[:40]))
            return ""
        return text


def _kit(read: Reader) -> tuple[tuple[str, int], ...]:
    """Counts by kind of a text such as “4 mini goals, 12 marker cones”."""
    found: dict[str, int] = {}
    for part in filter(str.strip, read.text("kit").split(",")):
        match = re.fullmatch(r"\s*([0-9]{1,3})\s+(\S.{0,39}?)\s*", part)
        if match is None:
            words = _("“{text}” is not a number and a kind, as in “4 mini goals”.")
            read.wrong("kit", words.format(text=part.strip()[:40]))
            return ()
        kind = plural_of(match[2])
        if kind in (BIBS, BALLS):
            read.wrong("kit", _("Bibs and balls follow from the numbers: Fit counts them for a drill."))
            return ()
        found[kind] = int(match[1])
    return tuple(sorted(found.items()))


def parse_search(
    params: Mapping[str, Any], age_groups: Iterable[Any] | None = None
) -> tuple[DrillSearch, list[FieldProblem]]:
    """The filters in a query string, and what is wrong with them; a wrong one counts as not given.

    `age_groups` are those of the season when the caller has read them already.
    """
    read = Reader(params)
    metres = _("From {least} to {most} m.")
    found = DrillSearch(
        q=read.text("q"),
        players=read.number(
            "players",
            reading.whole,
            1,
            MOST_PLAYERS_SEARCHED,
            _("From {least} to {most} players; look for groups beyond."),
        ),
        keepers=read.number("keepers", reading.whole, 0, MOST_KEEPERS, _("From {least} to {most} keepers.")),
        length=read.number("length", reading.number, 1, LONGEST_M, metres),
        width=read.number("width", reading.number, 1, LONGEST_M, metres),
        theme=read.text("theme")[:40],
        activity=read.one_of("activity", set(Activity), _("“{text}” is not a kind of activity.")),
        state=read.one_of("state", DrillState.values, _("“{text}” is not a state of a drill.")),
        effort_max=read.number(
            "effort_max", reading.number, 0, 10, _("Effort is CR10: from {least} to {most}.")
        ),
        minutes=read.number("minutes", reading.whole, 1, 240, _("From {least} to {most} minutes.")),
        kit=_kit(read),
        mine=read.text("mine") in ("1", "on", "true"),
        favourite=read.text("favourite") in ("1", "on", "true"),
        retired=read.text("retired") in ("1", "on", "true"),
        age_group=read.text("age_group")[:40],
    )
    if found.players is not None and found.keepers is not None and found.keepers > found.players:
        read.wrong("keepers", _("More keepers than players."))
        found = replace(found, keepers=None)
    return _with_ages(found, read, age_groups), read.problems


def _with_ages(found: DrillSearch, read: Reader, age_groups: Iterable[Any] | None) -> DrillSearch:
    """The ages of the group that is named by its label or its id."""
    if not found.age_group:
        return found
    for group in club.age_groups() if age_groups is None else age_groups:
        if found.age_group in (str(group.public_id), group.label):
            return replace(found, ages=players_of(group.ages, group.a_side))
    read.wrong("age_group", _("There is no age group “{text}” this season.").format(text=found.age_group))
    return replace(found, age_group="")
