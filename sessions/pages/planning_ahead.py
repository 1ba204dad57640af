"""Where a new session could go, and what it could begin with: the next free slots in a line each, ready sessions in a few."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club import queries as club
from club.actor import Actor
from club.ages import Ages, under_words
from club.letters import isolated
from sessions.queries.ready import is_for
from sessions.queries.rows import zone_words
from sessions.queries.slots.next_free import next_free_slots

if TYPE_CHECKING:
    from club.models import Squad
    from sessions.models import PartOrder, PartOrderDrill, Slot

MOST_OFFERED = 4


@dataclass(frozen=True)
class FreeLine:
    """A free slot on a day: `Tue 8 Dec 18:00–19:15`, `U12 Herons`, `Mill Field: Lower half`."""

    slot: Slot
    day: date
    when: str
    team: str
    place: str


def next_free(actor: Actor, squads: Iterable[Squad]) -> list[FreeLine]:
    """The slots that "Plan a session" offers, the soonest first; `squads` are those of the season. Two queries."""
    found = next_free_slots(actor, club.club_now(), most=MOST_OFFERED)
    teams = {each.pk: f"{each.age_group_label} {isolated(each.name)}" for each in squads}
    return [
        FreeLine(
            slot=each.slot,
            day=each.day,
            when=f"{date_format(each.day, 'D j M')} {each.slot.starts:%H:%M}–{each.slot.ends:%H:%M}",
            team=teams.get(each.slot.squad_id, each.slot.squad.name),
            place=zone_words(each.slot.zone_rows),
        )
        for each in found
    ]


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
        ages=under_words(template.under_from, template.under_to, _) if template.minutes else "",
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
