"""What assembling costs from 5,000 drills, and from fewer beside the same model in a second solver."""

import statistics
import time

import pytest

from sessions.planning.assemble import assemble
from tests.sessions.planning.assemble import milp
from tests.sessions.planning.assemble.libraries import PARTS, library, request

# At 5,000 the second solver has no answer within minutes, so its size ends at 1,000.
LARGE, MEDIUM, SMALL = 5_000, 1_000, 120
SEEDS = range(7)


def test_assemble_from_a_large_library() -> None:
    assemble(request(), library(0, 50), seconds=1)  # loads the solver, which is not what is measured
    walls, cpus, proven = [], [], 0
    for seed in SEEDS:
        offers = library(seed, LARGE)
        wall, cpu = time.perf_counter(), time.process_time()
        proven += assemble(request(), offers, seconds=20, alternatives=0).proven
        walls.append(time.perf_counter() - wall)
        cpus.append(time.process_time() - cpu)
    print(f"\n{'assemble from 5,000, best proven':<40}{'median':>8}{'worst':>8}")
    print(f"{'seconds on the clock':<40}{statistics.median(walls):>8.2f}{max(walls):>8.2f}")
    print(f"{'seconds of the processor':<40}{statistics.median(cpus):>8.2f}{max(cpus):>8.2f}")
    print(f"proven: {proven} of {len(SEEDS)}")


@pytest.mark.parametrize(("size", "seeds"), [(SMALL, SEEDS[:3]), (MEDIUM, SEEDS[:1])])
def test_beside_a_second_solver(size: int, seeds: range) -> None:
    asked = request(parts=PARTS[1:], minutes=60, load_au=240) if size == SMALL else request()
    ratios = []
    for seed in seeds:
        offers = library(seed, size, sizes=4 if size == SMALL else 8)
        began = time.process_time()
        objective = assemble(asked, offers, seconds=20, alternatives=0).objective
        middle = time.process_time()
        other = milp.best_points(asked, offers, seconds=600)
        ratios.append((time.process_time() - middle) / (middle - began))
        assert objective is not None
        assert other is not None
        assert abs(objective - other) < 0.01
    print(f"\nequal objectives from {size} drills; milp takes {statistics.median(ratios):.1f} × as long")
