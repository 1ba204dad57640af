"""The walk for longer: `python -m tests.fuzz [times] [seed]`. Each thing is tried so many times as often as in the suite."""

import os
import sys

import pytest

named = dict(zip(("FUZZ_MUCH", "FUZZ_SEED"), sys.argv[1:], strict=False))
os.environ |= {"FUZZ_MUCH": "10", **named}
sys.exit(pytest.main(["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "tests/fuzz"]))
