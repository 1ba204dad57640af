"""Drills of the library that are nearest to one which does not suit where it is taken."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from club.actor import Actor
from drills import queries as drills
from drills.bridge import MOST_PLAYERS_SEARCHED
from drills.game.document import DrillDocument
from drills.game.document.choices import Activity, Indoors
from drills.game.evening import Evening
from drills.game.fit.answer import right_age
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.playable import GAMES, design_of
from drills.game.variations import played
from drills.queries import DrillSearch, Pick
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit import Refit, StationToReuse, Target, of_age

MOST_NAMED = 3
_MOST_READ = 200
_MOST_LOOKED_AT = 9  # of those that the index names, the likest; each is fitted


def nearest_instead(
    part: Refit, stations: Sequence[StationToReuse], target: Target, *, actor: Actor
) -> Iterator[PlanningReason]:
    """For each drill of a part that is out, or for other ages: the drills like it that run there and are for that age."""
    known = {each.key: each for each in stations if each.document is not None}
    evening = target.evening
    if len(part.stations) > 1:
        evening = evening.for_station(max(1, evening.players // len(part.stations)))
    for each in part.stations:
        station = known.get(each.key)
        if station is None or evening.players > MOST_PLAYERS_SEARCHED:
            continue
        if each.is_out or not _is_for(station, evening):
            yield _said(station, nearest(station, evening, target, actor=actor), evening)


def _is_for(station: StationToReuse, evening: Evening) -> bool:
    assert station.document is not None
    return right_age(design_of(station.document, ""), evening.ages)


def _said(station: StationToReuse, found: list[str], evening: Evening) -> PlanningReason:
    if not found:
        return reason("carry_nearest_none", title=station.title)
    return of_age(
        "carry_nearest",
        "carry_nearest_adults",
        evening.ages,
        title=station.title,
        drills=", ".join(f"“{each}”" for each in found),
    )


def nearest(station: StationToReuse, evening: Evening, target: Target, *, actor: Actor) -> list[str]:
    """Titles of at most three drills, the likest first, each of them fitted: of the same kind, then games for a game and
    drills with a theme in common. Two queries, four where there are too few of the same kind.
    """
    document = station.document
    assert document is not None
    wanted = DrillSearch.on(evening, activity=document.activity.value, effort_max=target.hardest_cr10)
    found = _that_run(drills.pickable(actor, wanted, most=_MOST_READ), document, evening, target)
    if len(found) < MOST_NAMED and document.activity is not Activity.KEEPER:
        others = drills.pickable(actor, replace(wanted, activity=""), most=_MOST_READ)
        alike = [each for each in others if _is_alike(each, document)]
        found += _that_run(alike, document, evening, target)
    return found[:MOST_NAMED]


def _that_run(picks: Sequence[Pick], document: DrillDocument, evening: Evening, target: Target) -> list[str]:
    others = [each for each in picks if each.title != document.title]
    likest = sorted(others, key=lambda each: _unlike(each, document, evening.players))[:_MOST_LOOKED_AT]
    documents = drills.documents(each.revision_id for each in likest)
    found = (
        each.title
        for each in likest
        if _runs(documents[each.revision_id].document, each.runs_key, evening, target)
    )
    return list(islice(found, MOST_NAMED))


def _is_alike(pick: Pick, document: DrillDocument) -> bool:
    """Of another kind, and near all the same."""
    if pick.activity in (document.activity, Activity.KEEPER):
        return False
    both_games = pick.activity in GAMES and document.activity in GAMES
    return both_games or bool({*pick.theme_keys} & {*document.themes})


def _unlike(pick: Pick, document: DrillDocument, players: int) -> tuple[Any, ...]:
    """Fewer themes in common, numbers further off those who come, then by title."""
    shared = len({*pick.theme_keys} & {*document.themes})
    return -shared, abs(Format.parse(pick.format).players - players), pick.title


def _runs(document: DrillDocument, key: str, evening: Evening, target: Target) -> bool:
    doc = played(document, key)
    if target.in_hall and doc.indoors is Indoors.NO:
        return False
    if target.headers is not None and doc.headers_planned > target.headers:
        return False
    return right_age(design_of(document, key), evening.ages) and bool(fits(document, key, evening, most=1))
