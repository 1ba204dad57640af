"""Beside a station that is run otherwise than its drill says: what an own copy of it would be, or the one there is."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.utils.translation import gettext as _

from club.actor import Actor
from drills.game.document import digest
from drills.game.made.mine import fits_written, is_otherwise, rounds_as_written
from drills.queries.mine import OwnCopy, readable_with_copies, title_of, version_of
from sessions.queries.plan import SessionView
from sessions.queries.recorded.station_run import run_of
from sessions.queries.station import StationView


@dataclass(frozen=True)
class MyVersion:
    """Numbers and rounds where they are other than written, the title that a copy would have (it names the variation), and the copy where this person has it already."""

    what: str
    title: str
    saved: OwnCopy | None


def my_versions(view: SessionView, actor: Actor) -> dict[UUID, MyVersion]:
    """By station, for coaches and the director; nothing where all is run as it is written. At most one query."""
    if not (actor.is_coach or actor.is_director):
        return {}
    every = [each for part in view.parts for each in part.stations if each.drill]
    asked = [each for each in every if _is_otherwise(view, each)]
    revisions = {each.drill.revision_id for each in asked if each.drill}
    if not revisions:
        return {}
    copies = readable_with_copies(actor, revisions)
    return {
        each.row.public_id: _my_version(view, each, copies[each.drill.revision_id])
        for each in asked
        if each.drill and each.drill.revision_id in copies
    }


def _is_otherwise(view: SessionView, station: StationView) -> bool:
    assert station.drill is not None
    run = run_of(view.row, station.row)
    known = {"", *(each.key for each in station.drill.document.variations)}
    return run.rung in known and is_otherwise(station.drill.document, run)


def _my_version(view: SessionView, station: StationView, copies: dict[str, OwnCopy]) -> MyVersion:
    assert station.drill is not None
    document = station.drill.document
    run = run_of(view.row, station.row)
    saved = None
    if copies:  # its digest costs a plan laid anew: only where there may be one
        saved = copies.get(digest(version_of(document, run)))
    said = []
    if run.setup is not None and not fits_written(document, run):
        size = _("{length:g} × {width:g} m").format(length=run.setup.length_m, width=run.setup.width_m)
        said.append(_("{numbers} on {size}").format(numbers=run.setup.numbers_said(_), size=size))
    if not rounds_as_written(document, run):
        said.append(_rounds(run.work.bouts, run.work.bout_s))
    return MyVersion(", ".join(said), title_of(document, run), saved)


def _rounds(bouts: int, bout_s: int) -> str:
    minutes, seconds = divmod(bout_s, 60)
    length = (
        f"{minutes}:{seconds:02} min"
        if minutes and seconds
        else f"{minutes} min"
        if minutes
        else f"{seconds} s"
    )
    return (
        _("1 round of {length}").format(length=length)
        if bouts == 1
        else _("{n} rounds of {length}").format(n=bouts, length=length)
    )
