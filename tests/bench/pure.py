"""What the computations cost, each beside the same reference in the same run, so that the ratio travels."""

import statistics
import time
from collections.abc import Callable

from bibrack.demo.library import documents
from drills.drawing.picture import scene_as_written, scene_of
from drills.drawing.svg import render
from drills.game.evening import Evening
from drills.game.fit import fit
from drills.game.fits import fits
from drills.game.playable import design_of
from drills.game.played import as_played, bibs_tonight

ROUNDS = 15


def test_computations() -> None:
    found = dict(documents())
    document = found["all-aboard"]
    design = design_of(document)
    scene = scene_as_written(document)
    evening = Evening(
        14, kit={f"{colour} bibs": 12 for colour in ("red", "blue", "green", "orange", "white")}
    )
    setup = fits(document, "", evening)[0]
    bibs = bibs_tonight(document, "", setup, evening)
    tonight = as_played(document, "", setup, bibs)
    as_set_up = scene_of(tonight)
    reference = _median(lambda: sum(i * i for i in range(20_000)))
    print(f"\n{'computation':<34}{'ms':>8}{'× reference':>13}")
    for name, work in (
        ("reference: 20,000 squares summed", lambda: sum(i * i for i in range(20_000))),
        ("fit, 5v5+2in, 15 on 30 × 20 m", lambda: fit(design, players=15, adults=2, length_m=30, width_m=20)),
        (
            "fit, 5v5+2in, 40 on 100 × 60 m",
            lambda: fit(design, players=40, adults=4, length_m=100, width_m=60),
        ),
        ("drawing, 12 players, 4 steps", lambda: render(scene)),
        ("drawing, set up for 14", lambda: render(as_set_up)),
        (
            "as played for 14, laid and drawn",
            lambda: render(scene_of(as_played(document, "", setup, bibs))),
        ),
    ):
        cost = _median(work)
        print(f"{name:<34}{cost:>8.2f}{cost / reference:>13.1f}")


def _median(work: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        work()
        times.append((time.perf_counter() - began) * 1000)
    return statistics.median(times)
