"""Every format worth trying in one grid for a number of outfield players: the design's shape, grown or shrunk."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from drills.game.format import MOST_PLAYERS, Format, Side

# Floaters and outside players that are tried: common practice, no source.
MOST_NEUTRALS_ADDED = 2
MOST_NEUTRALS_PER_PLAYER = 2  # of the bigger side: 2v2+4, not 2v2+8
FEWEST_FOR_OUTSIDE = 3  # sides of one or two need all their players inside

# Players inside per side, own players outside per side, neutrals inside, neutrals outside.
Game = tuple[tuple[int, ...], tuple[int, ...], int, int]


@dataclass(frozen=True, slots=True)
class NumberBounds:
    """What numbers a drill may take in one grid, besides half to twice its players inside."""

    anyone: bool = False  # any number inside
    sides_fixed: bool = False
    neutrals_fixed: bool = False
    outside_fixed: bool = False
    side_most: int | None = None  # players of one side, its keeper among them
    slots: tuple[tuple[int, str, int, int], ...] = ()  # as in a design


ANY = NumberBounds()


@lru_cache(maxsize=8192)
def formats(design: Format, outfield: int, keepers: int, bounds: NumberBounds = ANY) -> tuple[Format, ...]:
    """Every format of this design's shape for so many outfield players (neutrals among them) and keepers, each once.

    Empty where the bounds allow none.
    """
    if not 1 <= outfield + keepers <= MOST_PLAYERS:
        return ()
    if not design.has_opponents:
        return tuple(_groups_in_bounds(design, outfield, keepers, bounds))
    return tuple(
        _built(design, game, keepers) for game in _games_in_bounds(design, outfield, keepers, bounds)
    )


@lru_cache(maxsize=8192)
def crowds(
    design: Format, outfield: int, keepers: int, bounds: NumberBounds = ANY
) -> frozenset[tuple[int, int]]:
    """(players inside, players outside) of every one of `formats`: all that decides how much room they take.

    A group of keepers alone, who are neither, has (0, 0).
    """
    return frozenset(
        (fmt.players_inside, fmt.players_outside) for fmt in formats(design, outfield, keepers, bounds)
    )


def _groups_in_bounds(design: Format, outfield: int, keepers: int, bounds: NumberBounds) -> Iterator[Format]:
    least, most = (1, MOST_PLAYERS) if bounds.anyone else _inside_bounds(design)
    if bounds.sides_fixed:
        least = most = design.players_inside or design.players
    for fmt in _groups(design, outfield, keepers):
        neutrals = fmt.neutrals_inside, fmt.neutrals_outside
        if bounds.neutrals_fixed and neutrals != (design.neutrals_inside, design.neutrals_outside):
            continue
        if least <= (fmt.players_inside or fmt.players) <= most:
            yield fmt


def _games_in_bounds(design: Format, outfield: int, keepers: int, bounds: NumberBounds) -> dict[Game, None]:
    """Each once, in the order they are found."""
    least, most = (1, MOST_PLAYERS) if bounds.anyone else _inside_bounds(design)
    return dict.fromkeys(
        game
        for game in _games(design, outfield)
        if least <= sum(game[0]) + game[2] <= most and _allowed(design, game, keepers, bounds)
    )


def _allowed(design: Format, game: Game, keepers: int, bounds: NumberBounds) -> bool:
    """Whether what the drill fixes stays, and no side is larger than it may be."""
    insides, outsides, neutrals_in, neutrals_out = game
    fixed = (
        (bounds.sides_fixed, insides, tuple(side.inside for side in design.sides)),
        (bounds.outside_fixed, outsides, tuple(side.outside for side in design.sides)),
        (
            bounds.neutrals_fixed,
            (neutrals_in, neutrals_out),
            (design.neutrals_inside, design.neutrals_outside),
        ),
    )
    if any(is_fixed and now != designed for is_fixed, now, designed in fixed):
        return False
    if _another_problem(design, game) or not all(_holds(game, *slot) for slot in bounds.slots):
        return False
    if bounds.side_most is None:
        return True
    return max(side.players for side in _built(design, game, keepers).sides) <= bounds.side_most


def _inside_bounds(design: Format) -> tuple[int, int]:
    """From half to twice the players inside: beyond that it is another drill."""
    inside = design.players_inside or design.players
    return -(-inside // 2), 2 * inside


def _holds(game: Game, side: int, where: str, least: int, most: int) -> bool:
    insides, outsides, neutrals_in, neutrals_out = game
    inside, outside = (neutrals_in, neutrals_out) if side < 0 else (insides[side], outsides[side])
    return least <= (inside if where == "inside" else outside) <= most


def _another_problem(design: Format, game: Game) -> bool:
    """Whether the overload is more than double, or less than half, of what the drill sets."""
    insides, outsides, neutrals_in, neutrals_out = game
    wished = design.overload or 1.0
    overload = (insides[0] + outsides[0] + neutrals_in + neutrals_out) / sum(insides[1:])
    return not wished / 2 - 1e-9 <= overload <= 2 * wished + 1e-9


# --- without opponents ---------------------------------------------------------------------------------------


def _groups(design: Format, outfield: int, keepers: int) -> Iterator[Format]:
    side = design.sides[0]
    if not side.inside:  # keepers among themselves: all who train here are keepers
        yield Format((Side(0, 0, outfield + keepers),))
        return
    for neutrals_in, neutrals_out in {(design.neutrals_inside, design.neutrals_outside), (0, 0)}:
        inside = outfield - side.outside - neutrals_in - neutrals_out
        if inside >= 1:
            yield Format((Side(inside, side.outside, keepers),), neutrals_in, neutrals_out)


# --- with opponents ------------------------------------------------------------------------------------------


def _games(design: Format, outfield: int) -> Iterator[Game]:
    own_outside = [(outsides, sum(outsides)) for outsides in _outsides(design)]
    not_inside = _most_neutrals(design) + max(standing for _, standing in own_outside)
    for insides in _insides(design, outfield, outfield - not_inside):
        left = outfield - sum(insides)
        if min(insides) < 1 or left < 0:
            continue
        most = min(_most_neutrals(design), MOST_NEUTRALS_PER_PLAYER * max(insides))
        for outsides, standing in own_outside:
            rest = left - standing
            if not 0 <= rest <= most or _crowded(design, insides, outsides):
                continue
            for neutrals_in, neutrals_out in _neutrals(design, rest):
                yield insides, outsides, neutrals_in, neutrals_out


def _crowded(design: Format, insides: tuple[int, ...], outsides: tuple[int, ...]) -> bool:
    """Whether a side has more players outside than inside, and than planned."""
    return any(o > max(i, side.outside) for i, o, side in zip(insides, outsides, design.sides, strict=True))


def _most_neutrals(design: Format) -> int:
    return max(MOST_NEUTRALS_ADDED, 2 * design.neutrals)


def _insides(design: Format, outfield: int, least: int) -> Iterator[tuple[int, ...]]:
    """Side sizes: the design's, all one more or fewer and so on, and with the difference of the sides off by one.

    All with at least `least` players together, and a few with fewer.
    """
    sizes = tuple(side.inside for side in design.sides)
    even = len(set(sizes)) == 1
    smallest = (least - sum(sizes)) // len(sizes) - 1
    for shift in range(max(-min(sizes), smallest), outfield // len(sizes) + 1):
        shifted = tuple(size + shift for size in sizes)
        yield shifted
        if even:
            # The bigger sides are written first: 5v4, 5v5v4.
            for bigger in range(1, len(sizes)):
                yield tuple(size + (number < bigger) for number, size in enumerate(shifted))
        else:
            for number in range(len(sizes)):
                yield tuple(size + (n == number) for n, size in enumerate(shifted))


def _outsides(design: Format) -> Iterator[tuple[int, ...]]:
    """Own outside players: the design's, all one more or fewer and so on; one or two for a plain game of 3v3 up."""
    own = tuple(side.outside for side in design.sides)
    if any(own):
        yield from {tuple(max(0, o + shift) for o in own) for shift in range(-max(own), max(own) + 1)}
        return
    yield own
    if (
        len(own) == 2
        and not design.neutrals
        and design.is_even
        and design.sides[0].inside >= FEWEST_FOR_OUTSIDE
    ):
        yield from ((1, 1), (2, 2))


def _neutrals(design: Format, rest: int) -> Iterator[tuple[int, int]]:
    """(inside, outside) for the players left over, near to what the design has of each."""
    inside, outside = design.neutrals_inside, design.neutrals_outside
    splits = {(rest, 0), (0, rest)} if rest <= MOST_NEUTRALS_ADDED else set()
    if outside:
        splits |= {(extra, rest - extra) for extra in range(max(0, inside - 1), inside + 2)}
    elif inside:
        splits |= {(rest, 0), (min(inside, rest), max(0, rest - inside))}
    yield from sorted(split for split in splits if min(split) >= 0)


def _built(design: Format, game: Game, keepers: int) -> Format:
    """Keepers go to the sides that have one in the design; a single one of two to the smaller side, else the first."""
    insides, outsides, neutrals_in, neutrals_out = game
    goals = [number for number, side in enumerate(design.sides) if side.keeper]
    if keepers < len(goals):
        goals.sort(key=lambda number: (insides[number] + outsides[number], number))
    kept = goals[:keepers]
    sides = tuple(Side(i, o, int(n in kept)) for n, (i, o) in enumerate(zip(insides, outsides, strict=True)))
    return Format(sides, neutrals_in, neutrals_out)
