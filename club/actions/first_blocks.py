"""What a new club's curriculum may begin with: blocks of some weeks, and themes that take turns. Plain values, no database.

All of it is our own start for the club to change (common practice, no source): six to eight weeks from one half-term to the
next, a few themes in each block rather than all of them a little, and with the youngest the ball at their feet in every one.
"""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Protocol, TypeVar

WEEKS = 7
SHORTEST = 3  # weeks: what is left of a season goes with the block before
UNTIL_BALL_AT_FEET = 9  # under: the first theme is in every block, and in none of those after
FROM_SET_PIECES = 13
WITH_BALL, ANOTHER_WITH_BALL, WITHOUT_BALL, AS_IT_CHANGES, SET_PIECES = (
    30,
    20,
    25,
    15,
    10,
)  # percent of the minutes
_WITH_BALL, _WITHOUT_BALL, _SET_PIECE = "in possession", "out of possession", "set piece"
_AS_IT_CHANGES = ("winning it", "losing it")


class HasMoment(Protocol):
    """A theme, as far as it is looked at here: the moment of the game it belongs to."""

    moment: str


Theme = TypeVar("Theme", bound=HasMoment)


def in_weeks(first: date, after: date) -> list[tuple[date, date]]:
    """Blocks of `WEEKS` weeks from `first` to the day before `after`, each as its first day and the day after its last.

    They begin on Mondays but for the first; fewer weeks than `SHORTEST` at the end go with the block before.
    """
    found = list[tuple[date, date]]()
    starts = first
    while starts < after:
        monday = starts - timedelta(days=starts.weekday())
        ends = monday + timedelta(weeks=WEEKS)
        if (after - ends).days < 7 * SHORTEST:
            ends = after
        found.append((starts, ends))
        starts = ends
    return found


def begin_with(themes: Iterable[Theme], under: int | None, block: int) -> list[tuple[Theme, int]]:
    """The themes of a block (0 is the season's first) with their shares in percent; `under` None is adults.

    Themes of each moment take turns, in their order.
    """
    listed = list(themes)
    young = under is not None and under <= UNTIL_BALL_AT_FEET
    ball = [each for each in listed if each.moment == _WITH_BALL]
    if not young and len(ball) > 2:
        ball = ball[1:]
    first = 0 if young else 2 * block
    second = 1 + block % max(1, len(ball) - 1) if young else 2 * block + 1
    wanted = [
        (ball, first, WITH_BALL),
        (ball, second, ANOTHER_WITH_BALL),
        ([each for each in listed if each.moment == _WITHOUT_BALL], block, WITHOUT_BALL),
        ([each for each in listed if each.moment in _AS_IT_CHANGES], block, AS_IT_CHANGES),
    ]
    if under is None or under >= FROM_SET_PIECES:
        wanted.append(([each for each in listed if each.moment == _SET_PIECE], block, SET_PIECES))
    chosen = list[tuple[Theme, int]]()
    for choice, turn, share in wanted:
        theme = _in_turn(choice, turn)
        if theme is not None and all(theme is not each for each, _share in chosen):
            chosen.append((theme, share))
    return chosen


def _in_turn(themes: Sequence[Theme], turn: int) -> Theme | None:
    return themes[turn % len(themes)] if themes else None
