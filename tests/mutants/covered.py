"""Which tests come to which lines: recorded once, kept in `.mutants/`, recorded again only where a file has changed."""

from __future__ import annotations

import gzip
import hashlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.mutants.recording import ALL_OF_FILE
from tests.mutants.rooms import files

KEPT = Path(".mutants/covered.json.gz")
# Folders whose tests come to no line of the rooms, or come to every page with odd values and look for errors alone.
PASSED_OVER = (
    "tests/browser", "tests/docker", "tests/fuzz", "tests/bibrack/postgres", "tests/drills/drawing", "tests/drills/game",
    "tests/sessions/pictures", "tests/drills/test_schemathesis.py",
)  # fmt: skip
PROCESSES = 2


@dataclass
class Covered:
    """Seconds of each test, the lines of each source that it comes to, and the digests of files when it was recorded."""

    seconds: dict[str, float] = field(default_factory=dict)
    lines: dict[str, dict[str, list[int]]] = field(default_factory=dict)
    digests: dict[str, str] = field(default_factory=dict)

    def tests_of(self, path: str, lines: Iterable[int]) -> set[str]:
        """The tests that come to one of these lines of a source."""
        wanted = set(lines)
        found = {test for test, sources in self.lines.items() if wanted & set(sources.get(path, ()))}
        return self._spelt_out(found)

    def tests_of_file(self, path: str) -> set[str]:
        """The tests that come to any line of a source."""
        return self._spelt_out(test for test, sources in self.lines.items() if path in sources)

    def _spelt_out(self, tests: Iterable[str]) -> set[str]:
        chosen = set(tests)
        whole = {each for each in chosen if each.endswith(ALL_OF_FILE)}
        return {each for each in self.seconds if each in chosen or file_of(each) + ALL_OF_FILE in whole}

    def outdated(self, root: Path) -> set[str]:
        """Test files that are new, or have changed, or came to a source that has changed."""
        tests = test_files(root)
        changed = {each for each in {*tests, *files(root)} if self.digests.get(each) != digest(root / each)}
        reached = {file_of(test) for test, sources in self.lines.items() if changed & set(sources)}
        return {each for each in tests if each in changed | reached}

    def forget(self, tests: set[str]) -> None:
        """Drop what was recorded of these test files."""
        self.seconds = {each: value for each, value in self.seconds.items() if file_of(each) not in tests}
        self.lines = {each: value for each, value in self.lines.items() if file_of(each) not in tests}

    def take(self, folder: Path) -> None:
        """Add what processes recorded."""
        for path in folder.glob("*.json"):
            told = json.loads(path.read_text())
            self.seconds |= told["seconds"]
            for test, sources in told["lines"].items():
                self.lines.setdefault(test, {}).update(sources)


def file_of(test: str) -> str:
    """The file of a test."""
    return test.split("::")[0]


def digest(path: Path) -> str:
    """A digest of a file as it is."""
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16] if path.exists() else ""


def test_files(root: Path) -> list[str]:
    """All test files that may be asked."""
    found = (each.relative_to(root).as_posix() for each in sorted((root / "tests").rglob("test_*.py")))
    return [each for each in found if not each.startswith(PASSED_OVER)]


def record(copy: Path, tests: Iterable[str], into: Path) -> None:
    """Run these test files in a copy of the source, and note down what they come to."""
    environment = {**os.environ, "RECORD_INTO": str(into), "PYTHONPATH": str(copy)}
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "-p",
        "tests.mutants.recording",
        "-p",
        "no:cacheprovider",
    ]
    command += ["-m", "not browser and not sweep", "-n", str(PROCESSES), "--dist", "worksteal", *tests]
    subprocess.run(command, cwd=copy, env=environment, check=False)


def load(root: Path) -> Covered:
    """What is kept, as it is."""
    kept = root / KEPT
    if not kept.exists():
        return Covered()
    told: dict[str, Any] = json.loads(gzip.decompress(kept.read_bytes()))
    return Covered(**told)


def save(root: Path, covered: Covered) -> None:
    """Keep it."""
    (root / KEPT).parent.mkdir(exist_ok=True)
    told = {"seconds": covered.seconds, "lines": covered.lines, "digests": covered.digests}
    (root / KEPT).write_bytes(gzip.compress(json.dumps(told).encode(), 5))


def _asked(tests: set[str], root: Path) -> list[str]:
    """What pytest is asked for: all of them by their folder, as it looks for each file that is named one by one."""
    if tests == set(test_files(root)):
        return ["tests", *(f"--ignore={each}" for each in PASSED_OVER)]
    return sorted(tests)


def brought_up_to_date(root: Path, copy: Path) -> Covered:
    """What is kept, after whatever has changed was recorded again."""
    covered = load(root)
    outdated = covered.outdated(copy)
    if outdated:
        covered.forget(outdated)
        with tempfile.TemporaryDirectory() as folder:
            record(copy, _asked(outdated, copy), Path(folder))
            covered.take(Path(folder))
        covered.digests = {each: digest(copy / each) for each in (*test_files(copy), *files(copy))}
        save(root, covered)
    return covered
