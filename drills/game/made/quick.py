"""A drill from four things that a coach can say in a minute: its name, the numbers, the size of the grid, three sentences.

Groups, bibs, goals and what kind of game it is follow from the numbers; all of it can be changed afterwards.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from drills.game.document.choices import (
    Activity,
    Direction,
    Edge,
    GoalSize,
    GroupHome,
    Moment,
    NumbersKind,
    PlaysFor,
)
from drills.game.document.content import Goal, Grid, Group, Numbers
from drills.game.document.drill import DrillDocument
from drills.game.format import MOST_PLAYERS, Format, Side, UnclearFormat
from drills.game.groups import KEEPER
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Sentence

_RANGE = re.compile(r"\s*+(\d{1,3})\s*+(?:-|–|—|to)\s*+(\d{1,3})\s*+", re.IGNORECASE)
_SIDES = (PlaysFor.A, PlaysFor.B, PlaysFor.C, PlaysFor.D)
BIBS = ("red", "blue", "green", "orange")
NEUTRAL = "yellow"
# A side so many more than the other plays round it: a rondo (common practice, no source).
RONDO_MORE = 2
RONDO_INSIDE = 3
AGE_GROUP_GOAL_FROM_M = 20.0  # a narrower end takes a small goal (common practice, no source)


def read_numbers(text: str) -> tuple[Format, Numbers]:
    """`5v5+2` as coaches write it, or `8–14`: anybody from 8 to 14, drawn for the middle. Raises UnclearFormat."""
    found = _RANGE.fullmatch(text)
    if found is None:
        return Format.parse(text), Numbers()
    least, most = sorted(int(each) for each in found.groups())
    if least < 1:
        raise UnclearFormat(Sentence("group_empty"))
    if most > MOST_PLAYERS:
        raise UnclearFormat(Sentence("too_many_players", {"players": most, "most": MOST_PLAYERS}))
    return Format.of((least + most) // 2), Numbers(kind=NumbersKind.RANGE, least=least, most=most)


def quick_document(
    *,
    title: str,
    numbers: str,
    length_m: float,
    width_m: float,
    purpose: str,
    size_for: str,
    say_this: Sequence[str],
) -> DrillDocument:
    """A whole document. Raises UnclearFormat for numbers that can't be read; what else is wrong is told by `validate`."""
    fmt, counted = read_numbers(numbers)
    return DrillDocument(
        title=title,
        purpose=purpose,
        activity=_activity(fmt),
        moment=Moment.IN_POSSESSION,
        format=str(fmt),
        numbers=counted,
        direction=_direction(fmt),
        groups=tuple(_groups(fmt, counted)),
        grids=(Grid(key="usual", length_m=length_m, width_m=width_m, purpose=size_for),),
        goals=tuple(_goals(fmt, width_m)),
        say_this=tuple(say_this),
    )


def sides_of(text: str, counted: Numbers, width_m: float) -> tuple[list[Group], list[Goal]]:
    """The groups that a format names, and the goals of its keepers on a grid so wide. Raises UnclearFormat."""
    fmt = Format.parse(text)
    return list(_groups(fmt, counted)), list(_goals(fmt, width_m))


def _activity(fmt: Format) -> Activity:
    if not fmt.has_opponents:
        return Activity.TECHNIQUE
    if fmt.keepers:
        return Activity.DIRECTIONAL
    return Activity.RONDO if _is_rondo(fmt) else Activity.POSSESSION


def _is_rondo(fmt: Format) -> bool:
    """`4v1`, `5v2`, `6v3`: those who keep the ball stand on the edges."""
    if len(fmt.sides) != 2 or fmt.neutrals or any(each.outside or each.keeper for each in fmt.sides):
        return False
    more, fewer = (each.inside for each in fmt.sides)
    return fewer <= RONDO_INSIDE and more >= fewer + RONDO_MORE


def _direction(fmt: Format) -> Direction:
    """Towards the goals that somebody keeps."""
    keepers = sum(bool(each.keeper) for each in fmt.sides) if fmt.has_opponents else 0
    return {0: Direction.NONE, 1: Direction.ONE_WAY, 2: Direction.TWO_WAYS}.get(
        keepers, Direction.SEVERAL_GOALS
    )


def _groups(fmt: Format, counted: Numbers) -> Iterator[Group]:
    if not fmt.has_opponents:
        [side] = fmt.sides
        if side.inside:
            yield Group(
                key="A",
                name=text_of(Sentence("group_everyone")),
                plays_for=PlaysFor.A,
                place=GroupHome.INSIDE,
                least=counted.least or side.inside,
                most=counted.most,
            )
        yield from _beside(side, PlaysFor.A, None)
    else:
        for side, plays_for, bib in zip(fmt.sides, _SIDES, BIBS, strict=False):
            edges = _is_rondo(fmt) and plays_for is PlaysFor.A
            yield _group(
                plays_for.value,
                plays_for,
                side.inside,
                bib,
                GroupHome.EVERY_SIDE if edges else GroupHome.INSIDE,
            )
            yield from _beside(side, plays_for, bib)
    for place, players in (
        (GroupHome.INSIDE, fmt.neutrals_inside),
        (GroupHome.EVERY_SIDE, fmt.neutrals_outside),
    ):
        if players:
            yield _group(f"N-{place.value.split()[0]}", PlaysFor.BALL, players, NEUTRAL, place)


def _beside(side: Side, plays_for: PlaysFor, bib: str | None) -> Iterator[Group]:
    """A side's own players outside, and its keepers."""
    if side.outside:
        yield _group(f"{plays_for.value}-out", plays_for, side.outside, bib, GroupHome.EVERY_SIDE)
    if side.keeper:
        name = text_of(Sentence("group_keepers", {"n": side.keeper}))
        yield Group(
            key=f"{plays_for.value}-keeper",
            name=name,
            plays_for=plays_for,
            place=GroupHome.GOAL,
            role=KEEPER,
            least=side.keeper,
        )


def _group(key: str, plays_for: PlaysFor, players: int, bib: str | None, place: GroupHome) -> Group:
    if bib is None:
        name = text_of(Sentence("group_everyone"))
    else:
        name = text_of(Sentence("group_in_bibs", {"bib": bib, "n": players}))
    return Group(key=key, name=name, plays_for=plays_for, place=place, least=players, bib=bib)


def _goals(fmt: Format, width_m: float) -> Iterator[Goal]:
    """One for each side with a keeper: the first on the left, as the side written first plays from left to right."""
    if not fmt.has_opponents:
        return
    size = GoalSize.AGE_GROUP if width_m >= AGE_GROUP_GOAL_FROM_M else GoalSize.SMALL
    edges = (Edge.LEFT, Edge.RIGHT, Edge.TOP, Edge.BOTTOM)
    for side, plays_for, edge in zip(fmt.sides, _SIDES, edges, strict=False):
        if side.keeper:
            yield Goal(
                key=f"{plays_for.value}-goal", edge=edge, size=size, defended_by=plays_for.value, keeper=True
            )
