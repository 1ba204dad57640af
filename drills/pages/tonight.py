"""A drill as it is run, in words: what every page, the pitch, the sheet and the API say of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drills.game.document import DrillDocument
from drills.game.played import GridTonight, GroupTonight, Played
from drills.game.sentences import Names, rules_of, say_ends, say_phase, say_restart
from drills.game.wording import sentence, text_of
from drills.pages import words


@dataclass(frozen=True)
class RuleTold:
    """A rule as a sentence; `own_words`: the coach's own, of which nothing is computed."""

    text: str
    own_words: bool = False


@dataclass(frozen=True)
class ToldDrill:
    """Everything that a drill says of how it is played, a sentence each, in tonight's words and whole."""

    rules: tuple[RuleTold, ...]
    phases: tuple[str, ...]
    start: tuple[str, ...]
    restarts: tuple[str, ...]
    winning: str
    scoring: tuple[str, ...]
    ends: str
    queue: tuple[str, ...]
    colours: tuple[str, ...]  # which grid wears other bibs than those that are spoken of

    @property
    def how(self) -> tuple[str, ...]:
        """Rules, phases, what to do on winning the ball, scoring and restarts: what must be known to run it, in that order."""
        texts = (each.text for each in self.rules)
        winning = (self.winning,) if self.winning else ()
        return (*texts, *self.phases, *winning, *self.scoring, *self.restarts)


def told(tonight: Played) -> ToldDrill:
    """A drill as it is run, in the reader's language."""
    said = told_of(
        tonight.document,
        tonight.names(_),
        tuple(text_of(each, _, ngettext) for each in tonight.other_colours),
    )
    return replace(said, start=(*goals_told(tonight), *said.start))


def goals_told(tonight: Played) -> tuple[str, ...]:
    """How large tonight's own goals are, where any stands: the size that is drawn."""
    if tonight.goal is None or not tonight.has_own_goals:
        return ()
    return (text_of(tonight.goal.told, _),)


def told_of(document: DrillDocument, names: Names, colours: tuple[str, ...] = ()) -> ToldDrill:
    """A document in words, with the names that it goes by."""
    return ToldDrill(
        rules=tuple(
            RuleTold(sentence(text_of(each.said, _)), each.own_words) for each in rules_of(document, names)
        ),
        phases=tuple(say_phase(each, names) for each in document.phases),
        start=tuple(words.start_lines(document.start, names.groups)),
        restarts=tuple(say_restart(each, names) for each in document.restarts),
        winning=words.winning_line(document.on_winning),
        scoring=tuple(words.scoring_line(each, names.groups) for each in document.scoring),
        ends=say_ends(document.ends, names),
        queue=tuple(words.queue_lines(document.queue)),
        colours=colours,
    )


@dataclass(frozen=True)
class GroupLine:
    """A group of one grid: `5 reds`, its bib and where it stands; `role`: `keeper`, `off`, or empty for all others."""

    name: str
    bib: str
    count: int
    where: str
    role: str = ""


@dataclass(frozen=True)
class GridLine:
    """A grid and who is on it, and how many there are of it; `words` is empty where there is one grid alone."""

    number: int
    words: str
    groups: tuple[GroupLine, ...]
    times: int = 1


def grids_told(tonight: Played) -> tuple[GridLine, ...]:
    """Who is on each grid that differs, and who is off beside it."""
    return tuple(
        GridLine(grid.number, text, _groups(grid), times)
        for (grid, times), text in zip(tonight.pictures, grid_words(tonight), strict=True)
    )


def _groups(grid: GridTonight) -> tuple[GroupLine, ...]:
    playing = [_line(each, _where(each), "keeper" if each.keeps_goal else "") for each in grid.groups]
    return (*playing, *(_line(each, _("off to start with"), "off") for each in grid.waiting))


def _where(group: GroupTonight) -> str:
    return _("in {zone}").format(zone=group.zone) if group.zone else str(words.PLACES[group.place])


def _line(group: GroupTonight, where: str, role: str) -> GroupLine:
    return GroupLine(group.name, group.bib, group.count, where, role)


def grid_words(tonight: Played) -> Sequence[str]:
    """What stands beside each plan: which grid it is, and how many look the same."""
    pictures = tonight.pictures
    if len(tonight.grids) == 1:
        return [""]
    found = []
    for grid, times in pictures:
        size = f"{grid.length_m:g} × {grid.width_m:g} m"
        text = _("Grid {number}: {format} on {size}").format(
            number=grid.number, format=grid.format, size=size
        )
        if times > 1:
            more = ngettext("and {n} more the same", "and {n} more the same", times - 1)
            text = f"{text}, {more.format(n=times - 1)}"
        found.append(text)
    return found
