"""What a moving plan costs as a video: seconds of the processor and bytes, for ten seconds of film."""

import time

from drills.drawing.film import FPS, Film
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.video import MOST_BYTES, mp4
from tests.drills.drawing.scenes import four_a_side, six_steps


def test_film() -> None:
    """The bar is 5 s and 1 MB for 10 s of film."""
    print(
        f"\n{'12 players, 6 steps':<24}{'film s':>8}{'made in s':>11}{'kB':>7}{'s for 10 s':>12}{'kB for 10 s':>13}"
    )
    for turn in (0, 90):
        scene = four_a_side(six_steps())
        film = Film(render(scene, options=DrawingOptions(moving=True, turn=turn)), scene.steps[-1].end_s)
        began = time.process_time()  # other work on the machine does not count
        size = len(mp4(film))
        took, lasts = time.process_time() - began, len(film.times_s) / FPS
        row = f"{f'turned by {turn}°':<24}{lasts:>8.1f}{took:>11.2f}{size / 1000:>7.0f}"
        print(f"{row}{took / lasts * 10:>12.2f}{size / lasts / 100:>13.0f}")
        assert size <= MOST_BYTES
