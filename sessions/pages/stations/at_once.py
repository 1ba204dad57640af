"""Stations that run at the same time: which drills they may play, and who is where in which bout."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from club.actor import Actor
from sessions.pages.editor import picks
from sessions.planning.carousel import CarouselRounds, Post, carousel
from sessions.planning.clock import clock_text
from sessions.queries.plan import PartView

if TYPE_CHECKING:
    from sessions.models import Part, TrainingSession


@dataclass(frozen=True)
class RoundLine:
    """One bout on the clock with the group at each station, in the stations' order."""

    number: int
    clock: str
    groups: list[str]


@dataclass(frozen=True)
class AtOnce:
    """A part's carousel as it is shown."""

    titles: list[str]
    lines: list[RoundLine]
    rounds: CarouselRounds


def part_in(session: TrainingSession, public_id: Any) -> Part | None:
    """A part of a session whose rows are at hand."""
    return next((each for each in session.parts.all() if str(each.public_id) == str(public_id)), None)


def rounds_of(part: Part) -> CarouselRounds:
    """Who is where in which bout, from rows that are at hand."""
    posts = [
        Post(each.group, each.stays, each.adult.name if each.adult else "") for each in part.stations.all()
    ]
    return carousel(posts, bouts=part.bouts, changes_round=part.changes_round, part=str(part.public_id))


def at_once(part: PartView) -> AtOnce | None:
    """The carousel of a part; None where it has one station or none."""
    if len(part.stations) < 2:
        return None
    rounds = rounds_of(part.row)
    spells = [each for each in part.times.spells if each.kind == "bout"]
    lines = [
        RoundLine(each.number, f"{clock_text(each.starts_at)}–{clock_text(each.ends_at)}", list(groups))
        for each, groups in zip(spells, rounds.bouts, strict=True)
    ]
    titles = [each.title or str(number) for number, each in enumerate(part.stations, start=1)]
    return AtOnce(titles, lines, rounds)


def drills_for(
    actor: Actor, session: TrainingSession, part: Part, *, q: str, keepers: bool = False
) -> list[tuple[str, str]]:
    """Drills for a station, by id and title: those that the part plays already, then what the words find."""
    found = {
        str(each.revision.drill.public_id): str(each.revision.drill.title)
        for each in part.stations.all()
        if each.revision
    }
    activity = "keeper" if keepers else ""
    for each in picks(actor, session, q=q, activity=activity, tonight=False):
        found.setdefault(str(each.public_id), each.title)
    return list(found.items())
