"""Whole teams through inside, outside and rest."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from itertools import combinations

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rotation.designs import balanced_blocks, twice_running
from sessions.planning.rotation.model import TeamBout, TeamRotation, evenness, labels, pair_counts

Groups = tuple[tuple[int, ...], ...]


def rotate_teams(
    *,
    teams: int | Sequence[str],
    inside: int,
    bouts: int,
    outside: int | None = None,
    grids: int | None = None,
) -> TeamRotation:
    """Rotate equal teams: `inside` play in each bout, `outside` stand outside (default: all others), the rest rest.

    In order: even times inside, pairs that meet evenly, nobody left out twice running. Teams on the same grid meet; `grids`
    is 1 unless all teams play, then games of two by the circle method. More teams inside than there are is answered with a
    reason and no bouts. Raises ValueError naming a number that is too small, and for a name that comes twice.
    """
    names = labels("teams", teams, letters=True)
    whole("inside", inside, 1)
    whole("bouts", bouts, 1)
    if inside > len(names):
        why = (reason("teams_do_not_fill", teams=len(names), inside=inside),)
        return TeamRotation((), 0, 0, False, 0, 0, False, 0, 1, why)
    waiting = len(names) - inside
    outside_places = waiting if outside is None else min(whole("outside", outside, 0), waiting)
    games, exhausted = _games(len(names), inside, bouts, _grids(grids, inside, waiting))
    return _answer(names, games, outside_places, inside, exhausted)


def _grids(grids: int | None, inside: int, waiting: int) -> int:
    if grids is None:
        return inside // 2 if waiting == 0 and inside % 2 == 0 else 1
    if inside % whole("grids", grids, 1):
        raise ValueError(f"grids: {inside} teams inside do not share out over {grids} grids")
    return grids


def _games(teams: int, inside: int, bouts: int, grids: int) -> tuple[list[Groups], bool]:
    """Games of each bout, and whether a stricter evenness of pairs was ruled out by an exhausted search."""
    games_of_two = inside == 2 * grids and inside == teams - teams % 2
    if games_of_two and teams > 2:
        rounds = circle(teams)
        return [tuple(rounds[bout % len(rounds)]) for bout in range(bouts)], False
    found = balanced_blocks(teams, inside, bouts)
    if grids == 1:
        return [(block,) for block in found.blocks], found.exhausted
    met: Counter[tuple[int, int]] = Counter()
    return [_split(block, inside // grids, met) for block in found.blocks], False


def _split(block: tuple[int, ...], size: int, met: Counter[tuple[int, int]]) -> Groups:
    """Share a block out over the grids so that teams come together that met least."""
    rest, groups = list(block), []
    while rest:
        first = min(rest)
        others = combinations([team for team in rest if team != first], size - 1)
        group = min(
            ((first, *more) for more in others), key=lambda g: sum(met[p] for p in combinations(g, 2))
        )
        met.update(combinations(group, 2))
        groups.append(group)
        rest = [team for team in rest if team not in group]
    return tuple(groups)


def _answer(
    names: tuple[str, ...], games: list[Groups], outside_places: int, inside: int, exhausted: bool
) -> TeamRotation:
    count, bouts = len(names), len(games)
    blocks = tuple(tuple(sorted(team for game in groups for team in game)) for groups in games)
    spread = evenness([sum(team in block for block in blocks) for team in range(count)])
    bound = 0 if bouts * inside % count == 0 else 1
    pairs = pair_counts(count, [game for groups in games for game in groups])
    pairs_spread = evenness(list(pairs.values()))
    pairs_bound = 1 if pairs and sum(pairs.values()) % len(pairs) else 0
    cycle = count // math.gcd(count, inside)
    return TeamRotation(
        bouts=_bouts(names, games, outside_places),
        spread=spread,
        bound=bound,
        proven=spread == bound,
        pairs_spread=pairs_spread,
        pairs_bound=pairs_bound,
        pairs_proven=exhausted or pairs_spread == pairs_bound,
        twice_running=twice_running(blocks, count),
        cycle=cycle,
        reasons=_uneven(spread, bouts, cycle),
    )


def _uneven(spread: int, bouts: int, cycle: int) -> tuple[PlanningReason, ...]:
    if not spread:
        return ()
    return (reason("waiting_uneven", bouts=bouts, spread=spread), reason("cycle", cycle=cycle))


def _bouts(names: tuple[str, ...], games: list[Groups], outside_places: int) -> tuple[TeamBout, ...]:
    stood_outside: Counter[int] = Counter()
    rested_last: set[int] = set()
    found = []
    for number, groups in enumerate(games, start=1):
        playing = {team for game in groups for team in game}
        left = [team for team in range(len(names)) if team not in playing]
        left.sort(key=lambda team: (stood_outside[team], team not in rested_last, team))
        out, rest = sorted(left[:outside_places]), sorted(left[outside_places:])
        stood_outside.update(out)
        rested_last = set(rest)
        found.append(
            TeamBout(
                number,
                inside=tuple(names[team] for team in sorted(playing)),
                outside=tuple(names[team] for team in out),
                resting=tuple(names[team] for team in rest),
                games=tuple(tuple(names[team] for team in game) for game in groups),
            )
        )
    return tuple(found)


def circle(count: int) -> list[list[tuple[int, int]]]:
    """Round robin by the circle method, by team numbers from 0: every team meets every other once.

    n−1 rounds of games for even n; for odd n n rounds, in each of which one team has no game. One team stands still,
    the others turn around it by one place a round; with an odd number the team that would stand still is missing.
    """
    ring = list(range(count)) + ([-1] if count % 2 else [])
    rounds = []
    for _ in range(len(ring) - 1):
        half = len(ring) // 2
        facing = zip(ring[:half], reversed(ring[half:]), strict=True)
        rounds.append([(min(a, b), max(a, b)) for a, b in facing if -1 not in (a, b)])
        ring = [ring[0], ring[-1], *ring[1:-1]]
    return rounds
