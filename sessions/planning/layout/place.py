"""The search for places: exact, with the constraint solver, in decimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from drills.game.evening import Piece
from sessions.planning.layout.ground import GridToLay, LayOut, PlacedGrid, Turned, turns
from sessions.planning.layout.laid import laid, refused
from sessions.planning.layout.margins import LADDER, LEAST, Margins
from sessions.planning.numbers import at_least
from sessions.planning.reasons import reason

FAR = 20_000  # decimetres, beyond any ground
SEED = 1
FOUND = ("OPTIMAL", "FEASIBLE")


def lay_out(
    grids: Sequence[GridToLay],
    pieces: Sequence[Piece],
    *,
    pace_m: float = 1.0,
    seconds: float = 2.0,
) -> LayOut:
    """Places for all grids with the widest margins that work, close to the corners they are paced from; or the proof
    that they do not fit.

    Behind a goal that is shot at no body may lie over the grid's whole edge; the clear ground of two such goals may be
    the same (back to back). Beyond the edges of the ground it counts towards other groups alone, and where it can't be
    had there, it is given up and said. ValueError for impossible input; meant for up to about six grids.
    """
    at_least("pace_m", pace_m, 0.3)
    if len({grid.key for grid in grids}) != len(grids) or len({each.key for each in pieces}) != len(pieces):
        raise ValueError("grids, pieces: no two may have the same key")
    answer = search(grids, pieces, LADDER, seconds)
    if answer.margins is not None:
        return laid(answer.spots, answer.margins, pace_m, proven=answer.status == "OPTIMAL")
    return not_laid(grids, pieces, answer.status, seconds)


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The solver's status, and the places with the widest of the margins; no margins where there are no places."""

    status: str
    margins: Margins | None = None
    spots: tuple[PlacedGrid, ...] = ()


def search(
    grids: Sequence[GridToLay], pieces: Sequence[Piece], ladder: Sequence[Margins], seconds: float
) -> LaidOut:
    """Places with the first of these margins that has any. INFEASIBLE is the proof that none has.

    Each of up to three questions to the solver may take so many seconds.
    """
    ladder = [each for each in ladder if may_fit(grids, pieces, each)]
    if not ladder:
        return LaidOut("INFEASIBLE")
    asked = PlacingSearch(grids, pieces)
    status = asked.place(ladder[0], seconds)
    if status in FOUND:
        return LaidOut(status, ladder[0], asked.spots())
    if status != "INFEASIBLE" or not ladder[1:]:
        return LaidOut(status)
    status, margins = asked.widest(ladder[1:], seconds)
    if margins is None:
        return LaidOut(status)
    spots = asked.spots()
    placed = asked.place(margins, seconds)
    return LaidOut(placed, margins, asked.spots()) if placed in FOUND else LaidOut("FEASIBLE", margins, spots)


def not_laid(grids: Sequence[GridToLay], pieces: Sequence[Piece], status: str, seconds: float) -> LayOut:
    """The answer where the solver placed nothing: proven not to fit, or not finished in its seconds."""
    if status == "INFEASIBLE":
        return refused(grids, pieces, room_for(grids, pieces, seconds))
    return LayOut((), False, LEAST, (reason("layout_not_finished"),))


def room_for(grids: Sequence[GridToLay], pieces: Sequence[Piece], seconds: float) -> int:
    """How many of the grids have room with the least margins, the smallest taken first; the seconds are shared by the tries."""
    smallest = sorted(grids, key=lambda grid: grid.length_m * grid.width_m)
    for many in range(len(grids) - 1, 0, -1):
        if search(smallest[:many], pieces, [LEAST], seconds / len(grids)).spots:
            return many
    return 0


def may_fit(grids: Sequence[GridToLay], pieces: Sequence[Piece], margins: Margins) -> bool:
    """False proves that there is not enough ground: bodies grown by their gaps never overlap."""
    gap = min((one.gap(other) for one, other in combinations(grids, 2)), default=0)
    bodies = [turns(grid) for grid in grids]
    needed = sum(min((each.length + gap) * (each.width + gap) for each in ways) for ways in bodies)
    there = 0
    for piece in pieces:
        rooms = [(each, each.room(piece, margins)) for ways in bodies for each in ways]
        along = max(right - left + each.length for each, (left, right, _, _) in rooms)
        across = max(top - bottom + each.width for each, (_, _, bottom, top) in rooms)
        there += max(0, along + gap) * max(0, across + gap)
    return needed <= there


class PlacingSearch:
    """One variable for each corner; a literal for each (piece, turn) of a grid, for each way to lie apart, and for each
    of the margins that may be taken.
    """

    def __init__(self, grids: Sequence[GridToLay], pieces: Sequence[Piece]) -> None:
        self.grids, self.pieces = grids, pieces

    def place(self, margins: Margins, seconds: float) -> str:
        """The solver's status after at most so many seconds; where it found places, they are the nearest to the lower-left
        corners.
        """
        self._build([margins])
        self.cp.minimize(sum(x + y for x, y in self.at))
        return self._ask(seconds)

    def widest(self, ladder: Sequence[Margins], seconds: float) -> tuple[str, Margins | None]:
        """(status, the first of these margins that would do); None with INFEASIBLE is the proof that none does."""
        self._build(ladder)
        self.cp.minimize(sum(number * literal for number, literal in enumerate(self.taken)))
        status = self._ask(seconds)
        if status not in FOUND:
            return status, None
        taken = zip(ladder, self.taken, strict=True)
        return status, next(margins for margins, literal in taken if self.solver.boolean_value(literal))

    def spots(self) -> tuple[PlacedGrid, ...]:
        """The places that the solver found."""
        return tuple(self._spot(number) for number in range(len(self.grids)))

    def _spot(self, number: int) -> PlacedGrid:
        x, y = (self.solver.value(each) for each in self.at[number])
        (at, turned), _ = next(p for p in self.how[number].items() if self.solver.boolean_value(p[1]))
        return PlacedGrid(self.grids[number], self.pieces[at], turned, x, y)

    def _build(self, ladder: Sequence[Margins]) -> None:
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model.CpModel()
        self.ladder = ladder
        self.taken = [self.cp.new_bool_var("") for _ in ladder]
        self.cp.add_exactly_one(self.taken)
        self.at = [(self.cp.new_int_var(0, FAR, ""), self.cp.new_int_var(0, FAR, "")) for _ in self.grids]
        self.how: list[dict[tuple[int, Turned], Any]] = []
        for number, grid in enumerate(self.grids):
            ways = {(s, t): self.cp.new_bool_var("") for s in range(len(self.pieces)) for t in turns(grid)}
            self.how.append(ways)
            self.cp.add_exactly_one(ways.values())
            for (piece, turned), literal in ways.items():
                self._inside(number, self.pieces[piece], turned, literal)
        for one, other in combinations(range(len(self.grids)), 2):
            self._keep_apart(one, other)

    def _inside(self, number: int, piece: Piece, turned: Turned, literal: Any) -> None:
        """On its piece, with what the edges ask for."""
        x, y = self.at[number]
        rooms = [turned.room(piece, each) for each in self.ladder]
        left, right, bottom, top = (self._taken(lengths) for lengths in zip(*rooms, strict=True))
        for fits in (x >= left, x <= right, y >= bottom, y <= top):
            self.cp.add(fits).only_enforce_if(literal)

    def _taken(self, lengths: Sequence[int]) -> Any:
        """A length that depends on the margins that are taken."""
        if len(set(lengths)) == 1:
            return lengths[0]
        return sum(length * literal for length, literal in zip(lengths, self.taken, strict=True))

    def _keep_apart(self, one: int, other: int) -> None:
        gap = self.grids[one].gap(self.grids[other])
        for (piece, turned), here in self.how[one].items():
            for (other_piece, other_turned), there in self.how[other].items():
                if piece != other_piece:
                    continue
                body = (*self.at[one], turned.length, turned.width)
                other_body = (*self.at[other], other_turned.length, other_turned.width)
                self._apart(body, other_body, gap, [here, there])
                for clear in self._behind_goals(one, turned):
                    self._apart(clear, other_body, 0, [here, there])
                for clear in self._behind_goals(other, other_turned):
                    self._apart(clear, body, 0, [here, there])

    def _behind_goals(self, number: int, turned: Turned) -> list[tuple[Any, Any, int, int]]:
        x, y = self.at[number]
        return [(x + dx, y + dy, long, wide) for dx, dy, long, wide in turned.clear]

    def _apart(self, one: Sequence[Any], other: Sequence[Any], gap: int, when: list[Any]) -> None:
        """One lies to the left, right, below or above the other, with a gap."""
        x, y, length, width = one
        ox, oy, olength, owidth = other
        sides = [
            (ox, x + length + gap),
            (x, ox + olength + gap),
            (oy, y + width + gap),
            (y, oy + owidth + gap),
        ]
        literals = []
        for beyond, end in sides:
            literals.append(self.cp.new_bool_var(""))
            self.cp.add(beyond >= end).only_enforce_if(literals[-1])
        self.cp.add_bool_or(literals).only_enforce_if(when)

    def _ask(self, seconds: float) -> str:
        from ortools.sat.python import cp_model

        self.solver = cp_model.CpSolver()
        self.solver.parameters.num_workers = 1
        self.solver.parameters.random_seed = SEED
        self.solver.parameters.max_time_in_seconds = max(1e-3, seconds)
        return str(self.solver.status_name(self.solver.solve(self.cp)))
