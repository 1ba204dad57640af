"""Print what pages, fits and drawings cost on the demo club, on this machine, in this run."""

import sys

import pytest

sys.exit(
    pytest.main(
        [
            "-q",
            "-s",
            "-p",
            "no:cacheprovider",
            "-p",
            "no:xdist",
            "tests/bench/pages.py",
            "tests/bench/library.py",
            "tests/bench/pure.py",
            "tests/bench/drawing.py",
            "tests/bench/film.py",
            "tests/bench/assemble.py",
            "tests/bench/blocks.py",
            "tests/bench/evening.py",
            "tests/bench/phones.py",
            "tests/bench/processes.py",
            "tests/bench/first_view.py",
            "tests/bench/memory.py",
            "tests/bench/stalled.py",
            "tests/bench/opened.py",
        ]
    )
)
