"""Free ground around grids: Fit and the lay-out read the same metres.

The figures are common practice, no source. What stands at an edge is said by `drills.game.evening.Stands`.
"""

from __future__ import annotations

from drills.game.document.choices import GoalSize

# From a grid (and who stands outside it) to a fence, wall or fixed goal: what is wished, and never less than.
RUN_OFF_WISHED_M = 3
RUN_OFF_LEAST_M = 1
# Between two grids, and to ground where another group may train; wider where a ball is shot.
BETWEEN_M = 2
BETWEEN_SHOT_M = 3
# Behind a goal that is shot at, where neither fence nor net stops the ball: no grid and nobody there.
BEHIND_SMALL_M = 5
BEHIND_FULL_M = 15
SMALL_UNDER = 10  # up to U10 the age group's own goal is a small one, and so are the shots


def between_m(shoots: bool) -> int:
    """Metres between two grids; more where one of them is shot in."""
    return BETWEEN_SHOT_M if shoots else BETWEEN_M


def behind_goal_m(size: GoalSize, under: int | None) -> int:
    """Ground to keep clear behind a goal, in metres. `under`: the oldest of tonight's players; None: not said."""
    small = size in (GoalSize.MINI, GoalSize.SMALL)
    young = size is GoalSize.AGE_GROUP and under is not None and under <= SMALL_UNDER
    return BEHIND_SMALL_M if small or young else BEHIND_FULL_M
