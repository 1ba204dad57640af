"""What a block's proposal, a lost pitch and an absent coach cost: size, seconds, objective, bound and gap in one table."""

import os
import time
from dataclasses import replace

from sessions.planning.blocks import BlockRequest, find_cover, mend_ground, propose_block
from sessions.planning.blocks.solving import WORKERS, Measure
from tests.sessions.planning.blocks import block_milp, cover_milp
from tests.sessions.planning.blocks.block_cases import block, medium
from tests.sessions.planning.blocks.cover_cases import week
from tests.sessions.planning.blocks.ground_cases import month

SEEDS = range(3)


def row(name: str, size: str, wall: float, cpu: float, value: str, bound: str, gap: float | None) -> None:
    share = "" if gap is None else f"{100 * gap:.1f} %"
    print(f"{name:<26}{size:<20}{wall:>7.1f}{cpu:>7.1f}  {value:>18}  {bound:>18}{share:>8}")


def measured(measures: tuple[Measure, ...]) -> tuple[str, str, float]:
    values = " ".join(str(each.value) for each in measures)
    bounds = " ".join(f"{each.bound:.0f}" for each in measures)
    return values, bounds, max(each.gap for each in measures)


def with_musts(asked: BlockRequest) -> BlockRequest:
    """A block in which every target has to be reached, which cannot be: what it costs to say which wishes clash."""
    return replace(asked, targets=tuple(replace(each, must=True) for each in asked.targets))


def test_blocks() -> None:
    print(f"\n{os.cpu_count()} cores, {WORKERS} worker a search, two searches at once for teams alone")
    print(f"{'model':<26}{'size':<20}{'wall':>7}{'cpu':>7}  {'objective':>18}  {'bound':>18}{'gap':>8}")
    for teams, short, seed in (
        (8, True, 0),
        *((16, short, seed) for short in (True, False) for seed in SEEDS),
    ):
        asked = block(seed, teams=teams, short=short)
        wall, cpu = time.perf_counter(), time.process_time()
        found = propose_block(asked)
        wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
        name = "block, kit " + ("short" if short else "plenty")
        size = f"{teams} × 7, {len(asked.slots)} slots"
        row(name, size, wall, cpu, f"{found.objective}", f"{found.bound:.0f}", found.gap)
    clashing = with_musts(block(0))
    wall, cpu = time.perf_counter(), time.process_time()
    found = propose_block(clashing)
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    row("block, all targets a must", "16 × 7", wall, cpu, f"{len(found.clash)} wishes", "", None)
    for seed in SEEDS:
        lost = month(seed)
        wall, cpu = time.perf_counter(), time.process_time()
        mended = mend_ground(lost)
        wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
        row("grass lost for a month", f"{len(lost.sessions)} sessions", wall, cpu, *measured(mended.measures))
    for seed in SEEDS:
        away = week(seed, weeks=4, away=5)
        wall, cpu = time.perf_counter(), time.process_time()
        cover = find_cover(away)
        wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
        row("5 coaches away, 4 weeks", f"{len(away.sessions)} sessions", wall, cpu, *measured(cover.measures))


def test_beside_a_second_solver() -> None:
    small, lost, away = medium(3), month(1, teams=10, weeks=2), week(1, away=5)
    pairs = (
        ("block", lambda: propose_block(small), lambda: block_milp.best_points(small)),
        ("lost pitch", lambda: mend_ground(lost), lambda: cover_milp.least_lost(lost)),
        ("absent coach", lambda: find_cover(away), lambda: cover_milp.least_cover(away)),
    )
    print("\nprocessor seconds, ours and the second solver's")
    for name, ours, theirs in pairs:
        began = time.process_time()
        ours()
        middle = time.process_time()
        theirs()
        print(f"{name:<26}{middle - began:>8.2f}{time.process_time() - middle:>8.2f}")
