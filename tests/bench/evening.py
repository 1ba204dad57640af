"""What an evening costs on paper: sheets, rotation, laying out, using a session again. The bar is 1 s each."""

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from drills.game.evening import Piece
from sessions.planning.layout import GridToLay, lay_out, lay_out_evening
from sessions.planning.rotation import RotationLimits, TeamPlaces, rotate_people

ROUNDS = 5


def _fenced(length_m: float, width_m: float) -> Piece:
    return Piece("field", length_m, width_m, "fence", "fence", "fence", "fence")


SPACE = _fenced(80, 50)
GRIDS = [
    GridToLay(str(n), length, width)
    for n, (length, width) in enumerate(((30, 20), (25, 20), (20, 15), (18, 12)))
]
THREE = [GridToLay(str(n), 18, 12, shot_at=(("left", 5.0), ("right", 5.0))) for n in range(3)]
SIX = [GridToLay(str(n), 11, 12) for n in range(6)]


def test_sheets(demo_database: Any) -> None:
    """Each sheet is set for the first time. Columns are ms of processor; the last line is by the clock on the wall."""
    from sessions import pages, queries
    from sessions.models import TrainingSession
    from sessions.sheet import SIZES, pdf, png

    print(f"\n{'sheet':<40}{'gather':>8}{'a4':>8}{'pocket':>8}{'bytes':>9}{'pages':>7}")
    rows = TrainingSession.objects.filter(parts__isnull=False).distinct().order_by("day")
    chosen = {(each.age_group.label, each.title): each.public_id for each in rows}
    spent: list[float] = []
    for (label, title), public_id in chosen.items():
        session = queries.session_by_id(public_id)
        assert session is not None
        began, wall = time.process_time(), time.perf_counter()
        sheet = pages.session_sheet(session, link=f"https://club.example/sessions/{public_id}/")
        costs, walls = [time.process_time() - began], [time.perf_counter() - wall]
        for size in SIZES:
            began, wall = time.process_time(), time.perf_counter()
            made = pdf(replace(sheet, people=f"{sheet.people} "), size)
            costs.append(time.process_time() - began)
            walls.append(time.perf_counter() - wall)
        spent.append(walls[0] + walls[1])
        long = len(png(sheet, "a4", ppi=10))
        ms = "".join(f"{1000 * each:>8.0f}" for each in costs)
        print(f"{f'{label} {title}'[:39]:<40}{ms}{len(made):>9}{long:>7}")
    print(
        f"{'one A4, gathered and set':<40}median {1000 * statistics.median(spent):.0f} ms, most {1000 * max(spent):.0f} ms"
    )


def test_planning() -> None:
    names = [f"p{number:02}" for number in range(30)]
    three = [TeamPlaces("red", 8), TeamPlaces("blue", 8), TeamPlaces("yellow", 8, "outside")]
    late = RotationLimits(
        presence={"p00": (3, 12), "p01": (1, 7)}, outside_only=frozenset({"p05"}), keepers=("p28", "p29")
    )
    print(f"\n{'computation':<52}{'ms':>8}")
    for name, work in (
        (
            "30 players, 12 bouts, two inside, one outside",
            lambda: rotate_people(teams=three, players=names, bouts=12, bout_min=3),
        ),
        (
            "the same with keepers, late, leaving, limits",
            lambda: rotate_people(teams=three, players=names, bouts=12, bout_min=3, keepers=2, tonight=late),
        ),
        (
            "four grids at once on 80 × 50 m, looked for",
            lambda: _fresh(lambda: lay_out_evening([GRIDS], [SPACE])),
        ),
        ("the same, exactly, nearest to the corners", lambda: lay_out(GRIDS, [SPACE], seconds=2)),
        (
            "four grids on 46 × 37 m, proven not to fit",
            lambda: lay_out(GRIDS, [_fenced(46, 37)], seconds=5),
        ),
        (
            "three grids in a cage of 40 × 30 m, less run-off",
            lambda: _fresh(lambda: lay_out_evening([THREE], [_fenced(40, 30)])),
        ),
        (
            "six grids in a cage of 40 × 30 m, less run-off",
            lambda: _fresh(lambda: lay_out_evening([SIX], [_fenced(40, 30)])),
        ),
    ):
        print(f"{name:<52}{_median(work):>8.1f}")


def _fresh(work: Callable[[], object]) -> object:
    from sessions.planning.layout import evening

    evening._placed.cache_clear()
    return work()


def _median(work: Callable[[], object]) -> float:
    work()
    times = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        work()
        times.append((time.perf_counter() - began) * 1000)
    return statistics.median(times)
