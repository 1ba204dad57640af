"""Write every page × size × scheme as PNG into pictures/. Arguments are names of pages; none means all."""

import os
import sys

import pytest

os.environ["PICTURES_OF"] = " ".join(sys.argv[1:])
sys.exit(pytest.main(["-q", "-p", "no:cacheprovider", "tests/pictures/take.py"]))
