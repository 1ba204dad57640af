"""A pytest plugin: which test comes to which line of the rooms, and the seconds of processor that each test takes.

What a fixture of a whole file runs counts for all tests of the file; what one of the whole run does, for none. Written as
JSON into the folder that `RECORD_INTO` names, one file per process: seconds by test, and lines by source by test.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Generator
from pathlib import Path
from typing import Any

import coverage
import pytest

from tests.mutants.rooms import files

ALL_OF_FILE = "::"
WRITTEN_EVERY_S = 120.0


class Recorder:
    """What one process runs."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.sources = list(files(root))
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.written = time.perf_counter()
        self.coverage = coverage.Coverage(
            data_file=None, config_file=False, include=[str(root / each) for each in self.sources]
        )
        self.coverage.start()

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Note down one test."""
        self.coverage.switch_context(item.nodeid)
        start = time.process_time()  # whatever else the machine is doing
        answer = yield
        self.seconds[item.nodeid] = time.process_time() - start
        self.coverage.switch_context("")
        if time.perf_counter() - self.written > WRITTEN_EVERY_S:
            self.write()
        return answer

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any, request: Any) -> Generator[None, object, object]:
        """Note down what a wider fixture runs as what it is."""
        if fixturedef.scope == "function":
            return (yield)
        whole = (
            "" if fixturedef.scope == "session" else request.node.nodeid.split(ALL_OF_FILE)[0] + ALL_OF_FILE
        )
        self.coverage.switch_context(whole)
        try:
            return (yield)
        finally:
            self.coverage.switch_context(request._pyfuncitem.nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """A test that fails without a fault can't tell one."""
        if report.failed:
            self.failed.add(report.nodeid)

    @pytest.hookimpl(trylast=True)
    def pytest_sessionfinish(self) -> None:
        """Write down the rest."""
        self.coverage.stop()
        self.write()

    def write(self) -> None:
        """Write down what has been run so far."""
        self.written = time.perf_counter()
        data = self.coverage.get_data()
        lines: dict[str, dict[str, list[int]]] = {}
        for source in self.sources:
            for line, tests in data.contexts_by_lineno(str(self.root / source)).items():
                for test in filter(None, tests):
                    lines.setdefault(test, {}).setdefault(source, []).append(line)
        passed = {test: value for test, value in self.seconds.items() if test not in self.failed}
        into = Path(os.environ["RECORD_INTO"]) / f"{os.getpid()}.json"
        into.write_text(json.dumps({"seconds": passed, "lines": lines}))


def pytest_configure(config: pytest.Config) -> None:
    """Record in the processes that run tests."""
    if hasattr(config, "workerinput") or not config.getoption("numprocesses", None):
        config.pluginmanager.register(Recorder(config.rootpath), "recorder")
