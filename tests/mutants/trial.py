"""Mutants against tests: a copy of the source for each process, one fault in it at a time, and what became of it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path

from tests.harness.database import PrivateDatabase, is_pure
from tests.mutants.children import Child, start
from tests.mutants.covered import Covered, file_of
from tests.mutants.mutants import Mutant

# Of tests for one mutant, in seconds of processor as recorded: the quickest of each file first.
BUDGET_S = 60.0
# Comes to no line, as it reads them all.
READ_THE_SOURCE = ("tests/bibrack/test_actions_whole.py::test_whoever_writes_is_an_action",)
NEXT_TO_NOTHING_S = 0.02  # a test of pure functions: all of them are asked
FIRST_OF_FILE = 3
FEW = 9  # tests that are asked before all others: most faults are told by then, and each file that is asked costs time
START_S = 30.0  # of processor for a start; with three times what its tests take, all that a mutant gets
KILLED, SURVIVED, TIMED_OUT, UNREACHED = "killed", "survived", "timed out", "unreached"
FAILED = re.compile(r"^(?:FAILED|ERROR) (tests/\S+?\.py.*?)(?: - .*)?$", re.MULTILINE)


@dataclass(frozen=True)
class Verdict:
    """What became of a mutant: of `tests` tests asked, out of `reaching` that come to its line."""

    mutant: Mutant
    end: str
    tests: int = 0
    reaching: int = 0
    seconds: float = 0.0
    by: str = ""

    @property
    def caught(self) -> bool:
        """Whether a test told it."""
        return self.end in {KILLED, TIMED_OUT}


def without_witness(verdict: Verdict) -> Verdict:
    """The verdict where the test that told it fails anyhow."""
    return replace(verdict, end=SURVIVED, by="")


@contextmanager
def copies(root: Path, many: int) -> Iterator[list[Path]]:
    """Copies of what git keeps or would keep, as it stands now."""
    command = ["git", "ls-files", "-co", "--exclude-standard", "-z"]
    names = subprocess.run(command, cwd=root, check=True, capture_output=True, text=True).stdout
    with tempfile.TemporaryDirectory(prefix="bibrack-mutants-") as folder:
        made = [Path(folder) / str(number) for number in range(many)]
        for name in filter(None, names.split("\0")):
            for copy in made if (root / name).is_file() else ():
                (copy / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(root / name, copy / name)
        yield made


@contextmanager
def server(copy: Path, processor_s: float = 300.0) -> Iterator[str]:
    """A private PostgreSQL, or the one that `BIBRACK_TEST_DATABASE_URL` names, on which both templates stand already, made by
    the source without a fault."""
    named = os.environ.get("BIBRACK_TEST_DATABASE_URL", "")
    database = None if named else PrivateDatabase()
    try:
        url = database.start() if database else named
        log = copy.parent / "warm.log"
        _wait(start(copy, ["tests/harness/warm.py"], server=url, log=log, processor_s=processor_s))
        yield url
    finally:
        if database:
            database.stop()


def _wait(child: Child) -> None:
    while not child.ended():
        time.sleep(0.1)
    if child.code:
        raise RuntimeError(f"The source without a fault fails: {child.log.read_text()}")


def chosen(covered: Covered, mutant: Mutant, budget_s: float = BUDGET_S) -> tuple[list[str], int]:
    """The tests to ask, in order, and how many come to the line at all.

    Where no test comes to the line by itself, as inside a long expression, those that come to its statement; of what runs on
    import, those that come to the file.
    """
    reaching = covered.tests_of(mutant.path, mutant.lines) or covered.tests_of(mutant.path, mutant.wider)
    if not mutant.function or (not reaching and mutant.function[:1].isupper()):
        reaching = reaching or covered.tests_of_file(mutant.path)
    by_cost = sorted(reaching, key=lambda each: (covered.seconds[each], each))
    by_file: dict[str, list[str]] = {}
    for test in by_cost:
        if covered.seconds[test] > NEXT_TO_NOTHING_S:
            by_file.setdefault(file_of(test), []).append(test)
    first = [tests[:FIRST_OF_FILE] for tests in by_file.values()]
    rest = [tests[FIRST_OF_FILE:] for tests in by_file.values()]
    asked = [each for each in by_cost if covered.seconds[each] <= NEXT_TO_NOTHING_S]
    for several in (first, rest):
        for tests in sorted(several, key=lambda each: sum(map(covered.seconds.__getitem__, each))):
            asked += tests
    total, within = 0.0, []
    for test in asked:
        total += covered.seconds[test]
        if within and total > budget_s:
            break
        within.append(test)
    return [
        *within,
        *(each for each in READ_THE_SOURCE if "/actions/" in mutant.path and each in covered.seconds),
    ], len(reaching)


@dataclass
class Trial:
    """A mutant that is being tried in a copy: pure tests first, as a run of these alone needs neither Django nor database,
    then a few others, then the rest."""

    mutant: Mutant
    copy: Path
    url: str
    stages: list[list[str]]  # that wait
    processor_s: float
    tests: int
    reaching: int
    before: tuple[bytes, float]  # the source without the fault, and when it was written
    began: float = field(default_factory=time.monotonic)
    child: Child | None = None

    @classmethod
    def begin(
        cls, mutant: Mutant, copy: Path, url: str, covered: Covered, asked: tuple[list[str], int]
    ) -> Trial:
        """Put the fault in and let the tests go."""
        tests, reaching = asked
        path = copy / mutant.path
        before = path.read_bytes(), path.stat().st_mtime
        path.write_bytes(mutant.applied(before[0]))
        pure = [each for each in tests if is_pure(file_of(each))]
        rest = [each for each in tests if not is_pure(file_of(each))]
        stages = [each for each in (pure, rest[:FEW], rest[FEW:]) if each]
        processor_s = START_S + 3 * sum(map(covered.seconds.__getitem__, tests))
        trial = cls(mutant, copy, url, stages, processor_s, len(tests), reaching, before)
        trial.next_stage()
        return trial

    def next_stage(self) -> None:
        """Let the next tests go."""
        log = self.copy.parent / f"{self.copy.name}.log"
        self.child = start(
            self.copy, self.stages.pop(0), server=self.url, log=log, processor_s=self.processor_s
        )

    def ended(self) -> bool:
        """Whether a test told the fault, or none is left."""
        assert self.child is not None
        if not self.child.ended():
            return False
        _drop(self.url, f"bibrack_test_{self.child.pid}")
        if self.child.code or not self.stages:
            return True
        self.next_stage()
        return False

    def end(self) -> Verdict:
        """Take the fault out again and say what became of it."""
        assert self.child is not None
        path = self.copy / self.mutant.path
        text, written = self.before
        path.write_bytes(text)
        os.utime(path, (written, written))  # what was compiled before holds again
        printed = self.child.log.read_text(errors="replace")
        end = TIMED_OUT if self.child.timed_out else SURVIVED if self.child.code == 0 else KILLED
        if "ERROR: not found:" in printed:
            raise RuntimeError(f"Tests that were recorded are not there: {printed[-500:]}")
        found = FAILED.search(printed)
        took = time.monotonic() - self.began
        return Verdict(self.mutant, end, self.tests, self.reaching, took, found[1] if found else "")


def _drop(url: str, name: str) -> None:
    import psycopg

    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')


def tried(
    mutants: list[Mutant], covered: Covered, places: list[Path], url: str, budget_s: float = BUDGET_S
) -> Iterator[Verdict]:
    """Each mutant's verdict as it is known, as many at once as there are copies."""
    waiting = list(reversed(mutants))
    free = list(places)
    going: list[Trial] = []
    try:
        while waiting or going:
            while waiting and free:
                mutant = waiting.pop()
                tests, reaching = chosen(covered, mutant, budget_s)
                if not tests:
                    yield Verdict(mutant, UNREACHED)
                    continue
                going.append(Trial.begin(mutant, free.pop(), url, covered, (tests, reaching)))
            for trial in [each for each in going if each.ended()]:
                going.remove(trial)
                free.append(trial.copy)
                yield trial.end()
            time.sleep(0.05)
    finally:
        for trial in going:
            if trial.child is not None:
                trial.child.stop()


def alone(tests: list[str], copy: Path, url: str) -> set[str]:
    """Which of these tests fail without a fault; they have told nothing."""
    failing: set[str] = set()
    log = copy.parent / "alone.log"
    rest = list(tests)
    while rest:
        child = start(copy, rest, server=url, log=log, processor_s=3600.0)
        while not child.ended():
            time.sleep(0.1)
        found = FAILED.search(log.read_text(errors="replace")) if child.code else None
        if found is None:
            return failing
        failing.add(found[1])
        rest = [each for each in rest if each not in failing]
    return failing
