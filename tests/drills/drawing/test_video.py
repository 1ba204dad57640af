"""A video read back: its boxes by hand from ISO/IEC 14496-12, its pictures by a decoder, against the plan itself."""

import io
import struct
from collections.abc import Iterator

import av
import numpy as np
import pytest

from drills.drawing import video
from drills.drawing.film import FPS, Film
from drills.drawing.paper import PAPER
from drills.drawing.svg import DrawingOptions, render
from drills.drawing.video import MOST_BYTES, Stopped, dots_of, mp4, pictures
from tests.drills.drawing.scenes import four_a_side, six_steps


def film(scene) -> Film:
    return Film(render(scene, options=DrawingOptions(moving=True)), scene.steps[-1].end_s)


@pytest.fixture(scope="module")
def made() -> tuple[Film, bytes]:
    found = film(four_a_side())
    return found, mp4(found)


def boxes(file: bytes) -> Iterator[tuple[str, bytes]]:
    """Type and contents of each box of a file: four bytes of length, four of type (ISO/IEC 14496-12, 4.2)."""
    at = 0
    while at < len(file):
        length, kind = struct.unpack(">I4s", file[at : at + 8])
        assert 8 <= length <= len(file) - at
        yield kind.decode(), file[at + 8 : at + length]
        at += length


def test_the_index_stands_before_the_pictures(made: tuple[Film, bytes]) -> None:
    kinds = [kind for kind, _ in boxes(made[1])]
    assert kinds[0] == "ftyp"
    assert kinds.index("moov") < kinds.index("mdat")


def test_it_is_what_phones_play(made: tuple[Film, bytes]) -> None:
    with av.open(io.BytesIO(made[1])) as file:
        (stream,) = file.streams
        assert (stream.codec_context.name, stream.codec_context.pix_fmt) == ("h264", "yuv420p")
        assert (stream.width, stream.height) == made[0].size_px
        frames = list(file.decode(video=0))
        assert len(frames) == len(made[0].times_s) == stream.frames
        assert abs(float(stream.duration * stream.time_base) - len(frames) / FPS) <= 1 / FPS
        assert [float(each.time) for each in frames[:3]] == pytest.approx([0, 1 / FPS, 2 / FPS], abs=1e-3)


@pytest.mark.sweep
def test_ten_seconds_are_far_below_a_megabyte() -> None:
    longest = film(four_a_side(six_steps()))  # 13 s, twelve players
    assert 10_000 < len(mp4(longest)) < MOST_BYTES / 2


def test_each_picture_is_the_plan_at_its_time(made: tuple[Film, bytes]) -> None:
    """Figures that are laid over the ground one by one, against the whole plan drawn at once."""
    for at, dots in enumerate(pictures(made[0])):
        if at % 10:
            continue
        whole = dots_of(made[0].whole(made[0].times_s[at]), PAPER, every_font=True)[:, :, :3]
        off = np.abs(whole.astype(int) - dots).max(axis=2)
        assert off.max() < 80, at  # an edge between two dots
        assert (off > 8).sum() < 200, at  # of half a million


def test_what_is_decoded_is_what_was_drawn(made: tuple[Film, bytes]) -> None:
    drawn = list(pictures(made[0]))
    with av.open(io.BytesIO(made[1])) as file:
        for at, frame in enumerate(file.decode(video=0)):
            off = np.abs(frame.to_ndarray(format="rgb24").astype(int) - drawn[at])
            assert off.mean() < 3, at
    assert any((drawn[0] != each).any() for each in drawn[1:])


def test_progress_is_told_frame_by_frame_and_whoever_watches_may_stop_it(made: tuple[Film, bytes]) -> None:
    told = []

    def watch(done: int, every: int) -> bool:
        told.append((done, every))
        return done < 5

    with pytest.raises(Stopped):
        mp4(made[0], watch)
    assert told == [(each, len(made[0].times_s)) for each in range(1, 6)]


def test_a_film_that_needs_more_bytes_than_there_are_is_refused(
    made: tuple[Film, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(video, "MOST_BYTES", 4000)
    with pytest.raises(ValueError, match="4000 at most"):
        mp4(made[0])


def test_a_picture_in_which_nothing_moves_is_a_film_too() -> None:
    still = Film(render(four_a_side()), 1.0)
    assert still.figures == ()
    with av.open(io.BytesIO(mp4(still))) as file:
        assert len(list(file.decode(video=0))) == 2 * FPS
