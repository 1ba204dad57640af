"""What each published check guards: said beside the check, gathered here, written down in docs/published-checks.md."""

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from club.choices import Rule

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / "docs" / "published-checks.md"
Test = TypeVar("Test", bound=Callable[..., Any])


@dataclass(frozen=True)
class Check:
    """A test against figures from outside. `guards` are `module:name`, or the rule of delivered rows."""

    module: str
    name: str
    source: str
    guards: tuple[str, ...]

    @property
    def words(self) -> str:
        return self.name.removeprefix("test_").replace("_", " ")


_found: dict[tuple[str, str], Check] = {}


def guards(*what: str | Rule, source: str) -> Callable[[Test], Test]:
    """Says beside a test which functions, constants and delivered rows it holds to which source."""

    def noted(test: Test) -> Test:
        named = tuple(rows_of(each) if isinstance(each, Rule) else each for each in what)
        _found[test.__module__, test.__name__] = Check(test.__module__, test.__name__, source, named)
        return test

    return noted


def rows_of(rule: Rule) -> str:
    """How delivered rows of a rule are named in the table."""
    return f"rows: {rule.label}"


def checks() -> list[Check]:
    """Every check of this folder, file by file."""
    package = importlib.import_module("tests.published")
    for each in sorted(one.name for one in pkgutil.iter_modules(package.__path__)):
        if each.startswith("test_"):
            importlib.import_module(f"tests.published.{each}")
    return sorted(_found.values(), key=lambda check: check.module)


def table() -> str:
    """The table as it is kept beside the documentation."""
    lines = [
        "# Published checks, and what each of them guards",
        "",
        "Written by `make docs`; a test holds it current. A check compares something that the app uses with figures from outside.",
        "Constants without a check say beside them that they are common practice or from memory.",
        "",
    ]
    module = ""
    for check in checks():
        if check.module != module:
            module = check.module
            lines += [
                "",
                f"## {module.replace('.', '/')}.py",
                "",
                "| check | source | guards |",
                "| --- | --- | --- |",
            ]
        what = "<br>".join(each if each.startswith("rows: ") else f"`{each}`" for each in check.guards)
        lines.append(f"| {check.words} | {check.source} | {what} |")
    return "\n".join(lines).replace("\n\n\n", "\n\n") + "\n"
