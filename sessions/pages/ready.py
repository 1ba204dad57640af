"""Ready sessions to choose from: each in a few lines, those on the theme first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from club.ages import Ages, under_words
from sessions.queries.ready import is_for

if TYPE_CHECKING:
    from sessions.models import PartOrder, PartOrderDrill


@dataclass(frozen=True)
class PartInLine:
    """A part in a line: its kind, what is played in it, and its minutes."""

    kind: str
    title: str
    minutes: int


@dataclass(frozen=True)
class ReadyLine:
    """A session template as a list shows it. `ages` and `players` are empty for one without drills; `gone` names its drills
    that are in the library no more.
    """

    public_id: UUID
    name: str
    about: str
    theme: str
    ages: str
    players: str
    minutes: int | None
    parts: list[PartInLine]
    gone: list[str]

    @property
    def has_drills(self) -> bool:
        return self.minutes is not None


def template_lines(templates: Iterable[PartOrder]) -> list[ReadyLine]:
    """Every template in a few lines, in the order given. No query."""
    return [_line(each) for each in templates]


def ready_lines(
    templates: Iterable[PartOrder], ages: Ages | None, theme: UUID | str | None = None
) -> list[ReadyLine]:
    """The ready sessions for a team of these ages (None: of any), those on the theme first, then by theme. No query."""
    found = [each for each in templates if each.minutes is not None]
    if ages is not None:
        found = [each for each in found if is_for(each, *ages.unders)]
    found.sort(key=lambda each: _order(each, str(theme or "")))
    return [_line(each) for each in found]


def _order(template: PartOrder, theme: str) -> tuple[Any, ...]:
    row = template.theme
    named = (row is None, 0, "") if row is None else (False, row.position, row.title)
    on_it = row is not None and str(row.public_id) == theme
    return (not on_it, *named, template.under_from or 0, template.name)


def _line(template: PartOrder) -> ReadyLine:
    rows = list(template.drills.all())
    least, most = template.players_from, template.players_to
    return ReadyLine(
        public_id=template.public_id,
        name=template.name,
        about=template.about,
        theme=template.theme.title if template.theme else "",
        ages=under_words(template.under_from, template.under_to) if template.minutes else "",
        players=f"{least}" if least == most else f"{least}–{most}",
        minutes=template.minutes,
        parts=[
            _part(part, [each for each in rows if each.part == n]) for n, part in enumerate(template.parts)
        ],
        gone=[_title(each) for each in rows if each.drill is None or each.drill.retired_at is not None],
    )


def _part(part: dict[str, Any], rows: list[PartOrderDrill]) -> PartInLine:
    title = part["title"] or " + ".join(_title(each) for each in rows)
    return PartInLine(kind=part["kind"], title=title, minutes=part["minutes"])


def _title(row: PartOrderDrill) -> str:
    return row.drill.title if row.drill is not None else row.title
