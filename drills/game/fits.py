"""The one door to Fit: a document, a rung and an evening in; the set-ups that work out, or why none does; and whether one
that was kept still does.

Pages, search, stations, the pitch, proposals and reuse ask here and nowhere else. They differ in the evening that they
build, never in what they do with it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from club.caches import MIB, remembered
from drills.game.design import Design
from drills.game.document import DrillDocument
from drills.game.evening import Evening
from drills.game.fit import MOST_ANSWERS, SetUp, explain_none, first_answers, fit_on, why_not_on
from drills.game.playable import design_of
from drills.game.reasons import Reason


@dataclass(frozen=True, slots=True)
class Fits:
    """The set-ups that work, nearest to the design first; where there are none, `refusals` says why."""

    setups: tuple[SetUp, ...] = ()
    refusals: tuple[Reason, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.setups)

    def __len__(self) -> int:
        return len(self.setups)

    def __iter__(self) -> Iterator[SetUp]:
        return iter(self.setups)

    def __getitem__(self, place: int) -> SetUp:
        return self.setups[place]

    @property
    def first(self) -> tuple[SetUp, ...]:
        """At most three that differ in kind: what a coach is offered before the rest."""
        return tuple(first_answers(self.setups))

    def find(self, numbers: str, grids: int) -> SetUp | None:
        """The nearest one with these numbers in so many grids."""
        return next((each for each in self.setups if (each.numbers, each.grids) == (numbers, grids)), None)


def fits(
    document: DrillDocument, rung_key: str, evening: Evening, *, most: int = MOST_ANSWERS, grid_key: str = ""
) -> Fits:
    """At most so many set-ups for a rung tonight; "" is the drill as written, and its first grid unless one is named.

    Raises KeyError for an unknown rung or grid, and CannotApply and UnclearFormat for a document that contradicts itself.
    """
    return fits_design(design_of(document, rung_key, grid_key=grid_key), evening, most=most)


def _for(design: Design, evening: Evening) -> Design:
    """The design as the evening asks for it: without its ages where a coach has chosen it."""
    return replace(design, under_from=None, under_to=None) if evening.chosen else design


def _worked_out(design: Design, evening: Evening, *, most: int) -> Fits:
    design = _for(design, evening)
    found: dict[tuple[str, int], SetUp] = {}
    for piece in evening.ground:
        for each in fit_on(design, evening.on(piece), most=most):
            known = found.get((each.numbers, each.grids))
            if known is None or each.distance < known.distance - 1e-9:
                found[each.numbers, each.grids] = each
    if not found:
        return Fits(refusals=explain_none(design, evening))
    return Fits(tuple(sorted(found.values(), key=lambda each: each.distance)[:most]))


def _key(design: Design, evening: Evening, *, most: int) -> tuple[object, ...]:
    return design.key(), evening.fit_key(), most


_remembered = remembered(most_bytes=16 * MIB, key=_key)(_worked_out)


def fits_design(design: Design, evening: Evening, *, most: int = MOST_ANSWERS, remember: bool = True) -> Fits:
    """The same for a rung whose design is at hand: what the rows of the library keep of it.

    `remember` False is for whoever asks for thousands and keeps of each answer what it needs.
    """
    return (_remembered if remember else _worked_out)(design, evening, most=most)


@dataclass(frozen=True, slots=True)
class Holds:
    """Whether a set-up that was kept is still one for an evening; where it isn't, `reasons` say why."""

    reasons: tuple[Reason, ...] = ()

    def __bool__(self) -> bool:
        return not self.reasons


def holds(document: DrillDocument, rung_key: str, setup: SetUp, evening: Evening) -> Holds:
    """Whether a set-up breaks none of the rules that Fit keeps to on this evening: it need not be the nearest any more.

    It answers for exactly the players that it counts. What is as good or better than it was (more kit, more ground, one
    adult more, another group's booking) is no reason. Raises as `fits` does.
    """
    return Holds(why_not_on(_for(design_of(document, rung_key), evening), setup, evening))
