"""Which rung of a drill is played: the one that was, else the nearest that does."""

from __future__ import annotations

from collections.abc import Sequence

from club.ages import under_words
from drills.game.document import DrillDocument
from drills.game.document.choices import Indoors, Rung
from drills.game.document.operations import Variation
from drills.game.evening import AMPLE, Evening, Piece
from drills.game.fit import SetUp
from drills.game.fit.answer import right_age
from drills.game.fits import fits
from drills.game.playable import design_of
from drills.game.steps import AS_WRITTEN, in_order, steps
from drills.game.variations import find, played
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.refit.model import StationToReuse, Target
from sessions.planning.refit.told import of_age, setup_changes


def rungs_near(document: DrillDocument, key: str) -> list[str]:
    """The rung as played, then the easier ones from the nearest, then the harder ones, then those that lead sideways."""
    ladder = in_order(document)
    at = ladder.index(key if key in ladder else AS_WRITTEN)
    sideways = [each.key for each in document.variations if each.rung is Rung.SIDEWAYS]
    return list(dict.fromkeys([key, *reversed(ladder[: at + 1]), *ladder[at + 1 :], *sideways]))


def one_up(document: DrillDocument, key: str) -> Variation | str | None:
    """The next rung up from the one that is played: a variation, "" for the drill as written, None at the top."""
    up = steps(document, key).harder
    return find(document, up) or up if up is not None else None


def choose(
    station: StationToReuse, target: Target, grounds: Sequence[Piece]
) -> tuple[str, SetUp | None, Piece, tuple[PlanningReason, ...]]:
    """Rung, set-up, the ground for it and reasons; no set-up where nothing of the drill can be played on any of them.

    A rung nearer to the one played comes before a better fit; of the grounds on which it runs the one where it is nearest
    to its design is taken, the first of equals.
    """
    document = station.document
    assert document is not None
    key = station.variation_key
    if target.in_hall and document.indoors is Indoors.NO:
        return key, None, grounds[0], (reason("carry_out_hall", title=station.title),)
    # First with the limit of effort, then without it: too hard, and said so, is better than nothing.
    for limit in (target.hardest_cr10, None):
        found = _first(station, target, grounds, limit)
        if found is not None:
            rung, setup, ground, kept_out = found
            return rung, setup, ground, _why(station, target, rung, setup, kept_out)
    return key, None, grounds[0], (_out(station, target, grounds[0]),)


def _first(
    station: StationToReuse, target: Target, grounds: Sequence[Piece], limit: float | None
) -> tuple[str, SetUp, Piece, str] | None:
    """The nearest rung that runs, its set-up and ground, and what kept the one before it out: "", heading or effort."""
    document, kept_out = station.document, ""
    assert document is not None
    for key in rungs_near(document, station.variation_key):
        doc = played(document, key)
        effort = station.cr10 if key == station.variation_key else doc.work.effort
        if target.headers is not None and doc.headers_planned > target.headers:
            kept_out = kept_out or "heading"
            continue
        if limit is not None and effort > limit:
            kept_out = kept_out or "effort"
            continue
        if found := fits(document, key, on_ground(target.evening, grounds), most=1):
            ground = next(each for each in grounds if each.key == found[0].piece)
            return key, found[0], ground, kept_out
    return None


def on_ground(evening: Evening, grounds: Sequence[Piece]) -> Evening:
    """An evening on these pieces of its ground; nobody said still where nobody had."""
    return evening.on(*(each for each in grounds if each != AMPLE))


def _why(
    station: StationToReuse, target: Target, key: str, setup: SetUp, kept_out: str
) -> tuple[PlanningReason, ...]:
    assert station.document is not None
    found = []
    if key != station.variation_key:
        variation = find(station.document, key)
        rung = variation.title if variation else station.document.title
        found.append(_why_rung(kept_out, station.title, rung, target))
    found += setup_changes(station, setup, target.evening.players)
    if target.in_hall and played(station.document, key).indoors is Indoors.WITH_CHANGES:
        found.append(reason("carry_hall_changes", title=station.title))
    return (*found, *_age(station, target))


def _why_rung(kept_out: str, title: str, rung: str, target: Target) -> PlanningReason:
    if kept_out == "effort" and target.hardest_cr10 is not None:
        return reason("carry_rung_effort", title=title, rung=rung, limit_cr10=float(target.hardest_cr10))
    return reason(
        "carry_rung_heading" if kept_out == "heading" else "carry_rung_fits", title=title, rung=rung
    )


def _age(station: StationToReuse, target: Target) -> tuple[PlanningReason, ...]:
    document = station.document
    assert document is not None
    if right_age(design_of(document), target.evening.ages):
        return ()
    ages = under_words(document.under_from, document.under_to)
    return (of_age("carry_age", "carry_age_adults", target.evening.ages, title=station.title, ages=ages),)


def _out(station: StationToReuse, target: Target, ground: Piece) -> PlanningReason:
    assert station.document is not None
    planned = played(station.document, station.variation_key).headers_planned
    if target.headers is not None and planned > target.headers:
        return reason("carry_out_heading", title=station.title, planned=planned, limit=target.headers)
    if ground == AMPLE:
        return reason("carry_out_players", title=station.title, players=target.evening.players)
    return reason(
        "carry_out_fits",
        title=station.title,
        players=target.evening.players,
        length_m=float(ground.length_m),
        width_m=float(ground.width_m),
    )
