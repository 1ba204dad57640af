"""Booked zones as the ground that they make: one rule for all that is fitted and laid out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from club.choices import EDGES
from drills.game.document.choices import GoalSize
from drills.game.evening import FixedGoal, Piece, Stands

STRICTEST: tuple[Stands, ...] = ("fence", "group", "open")


@dataclass(frozen=True)
class Booked:
    """Ground in one piece, its key the words for it; `zones` is how many zones it is made of."""

    piece: Piece
    zones: int
    has_lights: bool


@dataclass(frozen=True)
class _Zone:
    """A zone alone as a piece, and where it lies on its pitch; `share` is (which, of how many), from the bottom."""

    pitch: str
    position: int
    has_lights: bool
    piece: Piece
    share: tuple[int, int] = (0, 1)

    def beside(self, before: "_Zone") -> bool:
        """Whether it lies beside the zone that comes before it, and is as long."""
        same_length = self.piece.length_m == before.piece.length_m
        alike = self.pitch == before.pitch and same_length and self.share == before.share
        return alike and self.position == before.position + 1


def spaces_of(zones: Iterable[Any]) -> list[Booked]:
    """Zones of one pitch that are as long as each other and next to each other are one piece, side by side.

    The first by position is at the bottom; the others stand alone. `zones` are rows, or plain ones as a session has
    them. Pitches in the order in which they are given, pieces of a pitch in the order of its zones.
    """
    found = [_plain(each) for each in zones]
    pitches = list(dict.fromkeys(each.pitch for each in found))
    runs: list[list[_Zone]] = []
    for each in sorted(found, key=lambda zone: (pitches.index(zone.pitch), zone.position)):
        if runs and each.beside(runs[-1][-1]):
            runs[-1].append(each)
        else:
            runs.append([each])
    return [Booked(_shared(_joined(run), *run[0].share), len(run), run[0].has_lights) for run in runs]


def _shared(piece: Piece, at: int, shares: int) -> Piece:
    """The strip along the length that is one session's, where several share a piece on purpose: others are beside it."""
    if shares == 1:
        return piece
    low, high = at / shares, (at + 1) / shares
    return replace(
        piece,
        key=_("{place}, strip {at} of {shares}").format(place=piece.key, at=at + 1, shares=shares),
        width_m=int(piece.width_m / shares * 10) / 10,
        bottom=piece.bottom if at == 0 else "group",
        top=piece.top if at == shares - 1 else "group",
        goals=tuple(_goals_within(piece.goals, low, high)),
    )


def _goals_within(goals: Iterable[FixedGoal], low: float, high: float) -> Iterator[FixedGoal]:
    """Goals that stand on a strip from `low` to `high`, as shares of the width."""
    for goal in goals:
        if goal.edge in ("left", "right"):
            if low <= goal.along < high or goal.along == high == 1:
                yield FixedGoal(goal.edge, (goal.along - low) / (high - low), goal.size)
        elif (goal.edge == "bottom" and low == 0) or (goal.edge == "top" and high == 1):
            yield goal


def _joined(run: list[_Zone]) -> Piece:
    pieces = [each.piece for each in run]
    first, last = pieces[0], pieces[-1]
    return Piece(
        key=f"{run[0].pitch}: {', '.join(each.key for each in pieces)}",
        length_m=first.length_m,
        width_m=sum(each.width_m for each in pieces),
        left=min((each.left for each in pieces), key=STRICTEST.index),
        right=min((each.right for each in pieces), key=STRICTEST.index),
        bottom=first.bottom,
        top=last.top,
        goals=tuple(_goals(pieces)),
    )


def _goals(pieces: list[Piece]) -> Iterator[FixedGoal]:
    """Goals in their places on the whole piece. One at a joint is left out: the edge that it stood on is none any more."""
    whole_m, below_m = sum(each.width_m for each in pieces), 0.0
    for number, each in enumerate(pieces):
        inner = {"bottom"} if number else set()
        inner |= {"top"} if number < len(pieces) - 1 else set()
        for goal in each.goals:
            if goal.edge in ("left", "right"):
                along = min(1.0, (below_m + goal.along * each.width_m) / whole_m)
                yield FixedGoal(goal.edge, along, goal.size)
            elif goal.edge not in inner:
                yield goal
        below_m += each.width_m


def _plain(zone: Any) -> _Zone:
    row = zone if isinstance(zone, dict) else _as_dict(zone)
    edges: dict[str, Stands] = {edge: row[f"edge_{edge}"] for edge in EDGES}
    goals = tuple(
        FixedGoal(each["edge"], float(each["along"]), GoalSize(each["size"])) for each in row["fixed_goals"]
    )
    piece = Piece(row["zone"], float(row["length_m"]), float(row["width_m"]), **edges, goals=goals)
    share = (row.get("share_at", 0), row.get("shares", 1))
    return _Zone(row["pitch"], row["position"], row["has_lights"], piece, share)


def _as_dict(zone: Any) -> dict[str, Any]:
    """A row by the names of a plain zone."""
    names = ("position", "length_m", "width_m", "fixed_goals", *(f"edge_{edge}" for edge in EDGES))
    pitch = {"pitch": zone.pitch.name, "has_lights": zone.pitch.has_lights}
    return {"zone": zone.name, **pitch, **{name: getattr(zone, name) for name in names}}
