"""Drills of the library that are nearest to one which does not suit where it is taken."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any

from club.actor import Actor
from drills import queries as drills
from drills.bridge import MOST_PLAYERS_SEARCHED
from drills.game.document import DrillDocument
from drills.game.document.choices import Activity, Indoors
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fit.answer import right_age
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.playable import GAMES, design_of
from drills.game.played import dressed
from drills.game.variations import played
from drills.queries import DrillSearch, Pick, StationDrill
from sessions.bridge import parts_run
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit import Refit, StationToReuse, Target, of_age
from sessions.queries.plan import SessionView

MOST_NAMED = 3
_MOST_READ = 200
_MOST_INSTEAD = 12  # the same of plan B
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


@dataclass(frozen=True)
class Instead:
    """A drill that could be played tonight instead: the rung that runs, set up; `fetch` is what is not out yet, by kind.

    Not `offered` is one that is played in a part's place already; it has no set-up where nothing fits tonight.
    """

    drill: StationDrill
    key: str
    evening: Evening
    setup: SetUp | None
    fetch: Mapping[str, int]
    offered: bool = True


def instead_tonight(actor: Actor, view: SessionView, evening: Evening) -> list[Instead]:
    """At most three drills of the library for the session's numbers and space: what the kit that is out will do for goes
    first, then where nobody is off, then the likest. Two queries; one where none runs.
    """
    if evening.players > MOST_PLAYERS_SEARCHED:
        return []
    played = [each.drill for part in view.parts for each in part.stations if each.drill is not None]
    themes = {theme for each in played for theme in each.document.themes}
    ours = {each.drill_public_id for each in played}
    picks = drills.pickable(actor, DrillSearch.on(evening), most=_MOST_READ)
    others = [each for each in picks if each.public_id not in ours and each.activity != Activity.KEEPER]
    likest = sorted(others, key=lambda each: _as_likely(each, themes, evening.players))[:_MOST_INSTEAD]
    documents = drills.documents(each.revision_id for each in likest) if likest else {}
    found = [_instead(documents[each.revision_id], each.runs_key, view, evening) for each in likest]
    runs = [each for each in found if each.setup is not None]
    return sorted(runs, key=lambda each: (bool(each.fetch), each.setup is None or each.setup.waiting > 0))[
        :MOST_NAMED
    ]


def swapped_in(view: SessionView, evening: Evening) -> list[Instead]:
    """Drills of the library that are played in a part's place already. One query where there are some."""
    ours = {str(each.drill.drill_public_id) for part in view.parts for each in part.stations if each.drill}
    swaps = {
        (run.swap.drill, run.swap.revision): run.swap.rung
        for run in parts_run(view.row).values()
        if run.swap is not None and run.swap.drill not in ours
    }
    found = drills.station_drills(swaps) if swaps else {}
    known = {key: {"", *(each.key for each in drill.document.variations)} for key, drill in found.items()}
    return [
        replace(_instead(drill, swaps[key] if swaps[key] in known[key] else "", view, evening), offered=False)
        for key, drill in sorted(found.items())
    ]


def _as_likely(pick: Pick, themes: Iterable[str], players: int) -> tuple[Any, ...]:
    off = abs(Format.parse(pick.format).players - players)
    return -len({*pick.theme_keys} & {*themes}), off, pick.title, str(pick.public_id)


def _instead(drill: StationDrill, key: str, view: SessionView, evening: Evening) -> Instead:
    found = fits(drill.document, key, evening, most=1)
    if not found or not right_age(design_of(drill.document, key), evening.ages):
        return Instead(drill, key, evening, None, {})
    kit = dressed(drill.document, key, found[0], evening).kit
    fetch = {kind: n - view.kit.get(kind, 0) for kind, n in kit.items() if n > view.kit.get(kind, 0)}
    return Instead(drill, key, evening, found[0], fetch)
