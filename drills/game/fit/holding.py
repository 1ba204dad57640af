"""Whether a set-up is still one: the rules that every candidate keeps to, asked of one that was accepted before."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from drills.game.design import Design
from drills.game.evening import Evening, Piece
from drills.game.fit.arrays import ArrayCell, needed_m, places
from drills.game.fit.candidates import formats
from drills.game.fit.kit import shortages
from drills.game.fit.refusals import too_little_kit, wrong_age
from drills.game.fit.rules import Rules
from drills.game.fit.search import SetUpSearch
from drills.game.fit.setup import SetUp
from drills.game.format import MOST_PLAYERS, Format
from drills.game.reasons import ChangeClass, Parameter, Reason
from drills.game.space import Edge
from drills.game.wording.shapes import Part, Sentence

_HAIR = 1e-6


def why_not_on(design: Design, setup: SetUp, tonight: Evening) -> tuple[Reason, ...]:
    """Every rule that a set-up breaks tonight, each as a sentence; none where it can be played as it is."""
    asked = _Asked(design, setup, tonight, SetUpSearch(design, tonight))
    return (
        *wrong_age(design, tonight),
        *(asked.numbers() or asked.shared_out()),
        *asked.formats(),
        *asked.adults(),
        *asked.ground(),
        *asked.kit(),
    )


def _said(key: str, change_class: ChangeClass, said: dict[str, Part], **params: Parameter) -> Reason:
    return Reason(key, Sentence(key, said), change_class, params, weight="warning")


# Somebody went to another rung since: the set-up is for the one before.
OTHER_RUNG = _said("other_rung", "task", {})


@dataclass(frozen=True, slots=True)
class _Asked:
    design: Design
    setup: SetUp
    tonight: Evening
    search: SetUpSearch

    @property
    def rules(self) -> Rules:
        return self.search.rules

    @property
    def _alone(self) -> bool:
        """Keepers train among themselves: nobody is in goal for somebody else."""
        return not self.design.format.has_opponents and not self.design.format.players_inside

    # --- people ------------------------------------------------------------------------------------------------

    def numbers(self) -> tuple[Reason, ...]:
        then, now = self.setup.players_total, self.tonight.players
        values: dict[str, int] = {"then": then, "now": now}
        return () if then == now else (_said("other_numbers", "people", {**values}, **values),)

    def shared_out(self) -> tuple[Reason, ...]:
        """Who keeps goal, and who is off, of as many players as it was set up for."""
        setup, found = self.setup, list(self.search.keepers(self.setup.grids))
        in_goal = (0,) * setup.grids if self._alone else tuple(fmt.keepers for fmt in setup.grid_formats)
        if (in_goal, setup.serving) not in [(vector, serving) for vector, serving, _ in found]:
            there = self.tonight.keepers
            now = max(sum(vector) for vector, _, _ in found) if there is None else there
            values: dict[str, int] = {"then": sum(in_goal) + setup.serving, "now": now}
            return (_said("other_keepers", "people", {**values}, **values),)
        off = setup.waiting - setup.serving
        most = max(
            each.most_off
            for each in self.search.shared(setup.grids)
            if (each.keepers, each.serving) == (in_goal, setup.serving)
        )
        if off <= most:
            return ()
        values = {"off": off, "players": setup.players_total}
        return (_said("would_wait", "people", {**values}, **values),)

    def formats(self) -> Iterator[Reason]:
        """Numbers that the drill or the players' ages do not take, and grids larger than their match."""
        for fmt in dict.fromkeys(self.setup.grid_formats):
            if not self._is_allowed(fmt):
                yield self._not_allowed(fmt)
        cap = self.rules.area_most_m2
        grids = zip(self.setup.grid_formats, self.setup.grid_sizes, strict=True)
        if cap is not None and any(_is_over(cap * fmt.players, *size) for fmt, size in grids):
            yield _said("grid_over_match", "space", {"most": cap}, most=cap)

    def _is_allowed(self, fmt: Format) -> bool:
        design, keepers = self.design, 0 if self._alone else fmt.keepers
        if not design.least_players <= fmt.players <= (design.max_players or MOST_PLAYERS):
            return False
        return fmt in formats(design.format, fmt.players - keepers, keepers, self.rules.bounds)

    def _not_allowed(self, fmt: Format) -> Reason:
        most, side = self.rules.bounds.side_most, max(each.players for each in fmt.sides)
        if most is not None and side > most:
            return _said("sides_over_age", "people", {"side": side, "most": most}, side=side, most=most)
        return _said("not_the_drills", "people", {"format": str(fmt)}, format=str(fmt))

    def adults(self) -> Iterator[Reason]:
        grids, there = self.setup.grids, self.tonight.adults_for(self.design.adults_needed)
        adults = Sentence("adults", {"n": there})
        if grids > self.rules.most_grids:
            yield _said(
                "adults_gone",
                "people",
                {"grids": Sentence("grids", {"n": grids}), "adults": adults},
                grids=grids,
                adults=there,
            )
        if self.setup.adult_plays > self.search.most_adults_in(grids):
            yield _said("adult_cannot_play", "people", {"adults": adults}, adults=there)

    # --- ground and kit ------------------------------------------------------------------------------------------

    def ground(self) -> Iterator[Reason]:
        """Nothing where nobody says on what ground. A set-up for typed lengths lies wherever there is room for it."""
        setup, pieces = self.setup, self.tonight.pieces
        here = [each for each in pieces if each.key == setup.piece]
        if not pieces:
            return
        if setup.piece and not here:
            values: dict[str, str] = {"then": setup.piece, "now": pieces[0].key or "typed"}
            yield (
                _said("other_ground", "space", {**values}, **values)
                if pieces[0].key
                else _said("other_ground_typed", "space", {"then": setup.piece}, then=setup.piece)
            )
            return
        where = here or list(pieces)
        run_offs = [min(place.run_off_m) for each in where for place in self._ways(each)]
        if not run_offs:
            yield self._too_small(max(where, key=lambda each: each.area_m2))
        elif max(run_offs) < setup.run_off_m - _HAIR:
            metres = {"then": setup.run_off_m, "now": max(run_offs)}
            yield _said("edge_nearer", "space", {**metres}, **metres)

    def _ways(self, piece: Piece) -> Iterator[ArrayCell]:
        """Every way in which the grids lie on a piece, as Fit would lay them."""
        for place in places(piece, self.setup.grids, self.rules.shots):
            if all(self._lies(place, *each) for each in self._grids()):
                yield place

    def _grids(self) -> Iterator[tuple[tuple[float, float], tuple[Edge, ...]]]:
        for fmt, size in zip(self.setup.grid_formats, self.setup.grid_sizes, strict=True):
            yield size, self.design.edges(fmt)

    @staticmethod
    def _lies(place: ArrayCell, size: tuple[float, float], edges: tuple[Edge, ...]) -> bool:
        return all(side <= most + _HAIR for side, most in zip(size, place.inside(edges), strict=True))

    def _too_small(self, piece: Piece) -> Reason:
        edges = max((each for _, each in self._grids()), key=len)
        long, wide = needed_m(piece, self.setup.grid_sizes, edges, self.rules.shots)
        metres = {
            "length": float(math.ceil(long)),
            "width": float(math.ceil(wide)),
            "free_length": piece.length_m,
            "free_width": piece.width_m,
        }
        return _said("ground_too_small", "space", {"numbers": self.setup.numbers, **metres}, **metres)

    def kit(self) -> Iterator[Reason]:
        if lack := shortages(self.setup.kit, self.tonight.kit):
            yield too_little_kit(lack)


def _is_over(most_m2: float, length_m: float, width_m: float) -> bool:
    """Whether a grid is larger than it may be by more than the rounding of a side to whole metres."""
    return min((length_m - 1) * width_m, length_m * (width_m - 1)) > most_m2 + _HAIR
