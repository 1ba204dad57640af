"""What has to be carried for a set-up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drills.game.design import Design, InsteadOfKeeper
from drills.game.format import Format
from drills.game.playable import BIG_GOALS, MARKERS, MINI_GOALS

# The club's own words for kit, as its stock lists them.
BIBS = "bibs"


def bibs(fmt: Format) -> int:
    """How many bibs one grid needs: all groups but the largest wear one (common practice, no source). 5v5+2 → 7, 5v2 → 2."""
    if not fmt.has_opponents:
        return 0
    groups = [side.outfield for side in fmt.sides] + [fmt.neutrals]
    return sum(groups) - max(groups)


def kit_list(design: Design, formats: Iterable[Format], *, turns_in_goal: bool = False) -> dict[str, int]:
    """Kind → count over all grids, kinds with nothing left out. `turns_in_goal`: every goal is kept by somebody."""
    kit: dict[str, int] = {}
    for fmt in formats:
        for kind, count in _grid_kit(design, fmt, turns_in_goal).items():
            kit[kind] = kit.get(kind, 0) + count
    return {kind: count for kind, count in kit.items() if count > 0}


def standing_kit(
    kit: Mapping[str, int], missing: int, keeper_goal: str, instead_of_keeper: InsteadOfKeeper
) -> dict[str, int]:
    """Kind → count of one grid's kit that does not depend on its numbers.

    A goal of kind `keeper_goal` is replaced for each of the `missing` keepers: by a small one, or by two markers.
    """
    kit = dict(kit)
    goals = min(missing, kit.get(keeper_goal, 0))
    if goals:
        kit[keeper_goal] -= goals
        instead, count = (MINI_GOALS, 1) if instead_of_keeper == "small goal" else (MARKERS, 2)
        kit[instead] = kit.get(instead, 0) + count * goals
    return kit


def kit_for(kit: Mapping[str, int], missing: str) -> dict[str, int]:
    """Kind → count of what stands on several grids with this kit each; a digit of `missing` is how many goals a grid has
    unkept.

    As documents have it: keepers stand in moveable goals, and a small goal takes the place of one.
    """
    total: dict[str, int] = {}
    for digit in missing:
        for kind, count in standing_kit(kit, int(digit), BIG_GOALS, "small goal").items():
            total[kind] = total.get(kind, 0) + count
    return total


def goals_missing(design: Format, keepers: int) -> int:
    """How many keepers' goals of one grid nobody keeps when so many keep goal in it; 0 without opponents."""
    return max(0, design.keepers - keepers) if design.has_opponents else 0


def _grid_kit(design: Design, fmt: Format, turns_in_goal: bool) -> dict[str, int]:
    missing = goals_missing(design.format, fmt.keepers) if fmt.has_opponents and not turns_in_goal else 0
    kit = standing_kit(design.kit, missing, design.keeper_goal, design.instead_of_keeper)
    for kind, count in design.kit_per_player.items():
        kit[kind] = kit.get(kind, 0) + count * fmt.players
    if design.bibs:
        kit[BIBS] = kit.get(BIBS, 0) + bibs(fmt)
    return kit


def shortages(kit: Mapping[str, int], there: Mapping[str, int] | None) -> dict[str, int]:
    """Kind → how many are missing. Of a kind that `there` does not list there is enough; None: enough of everything."""
    if there is None:
        return {}
    return {kind: count - there[kind] for kind, count in kit.items() if count > there.get(kind, count)}
