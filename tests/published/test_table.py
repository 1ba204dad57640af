"""Every published check guards something in use, every delivered row and every constant of the trade has one or says why not."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from club.actions.guidelines import FIGURES
from club.choices import Rule
from tests.published.reach import ROOT, in_use, modules, name_of
from tests.published.registry import TABLE, checks, rows_of, table
from tests.published.technical import TECHNICAL

PURE = ("drills/game", "drills/drawing", "sessions/planning")
# Said beside a constant that has no source.
PLAINLY = ("no source", "from memory", "judgement")


def constants_of(text: str, name: str) -> Iterator[tuple[str, bool]]:
    """The constants of a module that hold a number, each with whether it says plainly that it has no source: in its own
    lines, in those above it up to an empty one, or in the first lines of the module.
    """
    tree, lines = ast.parse(text), text.splitlines()
    whole = ast.get_docstring(tree) or ""
    for node in tree.body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        values = (each.value for each in ast.walk(node.value) if isinstance(each, ast.Constant))
        if not any(isinstance(each, int | float) and not isinstance(each, bool) for each in values):
            continue
        first = node.lineno - 1
        while first and lines[first - 1].strip():
            first -= 1
        beside = " ".join([whole, *lines[first : node.end_lineno]])
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        for target in targets:
            for each in ast.walk(target):
                if isinstance(each, ast.Name) and re.fullmatch(r"_?[A-Z][A-Z0-9_]*", each.id):
                    yield f"{name}:{each.id}", any(words in beside for words in PLAINLY)


def every_constant() -> Iterator[tuple[str, bool]]:
    for folder in PURE:
        for path in sorted((ROOT / folder).rglob("*.py")):
            yield from constants_of(path.read_text(), name_of(path))


def guarded() -> set[str]:
    return {each for check in checks() for each in check.guards}


def test_each_check_says_what_it_guards_and_names_its_source() -> None:
    noted = {(check.module, check.name) for check in checks()}
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        if path.stem == "test_table":
            continue
        tests = {node.name for node in ast.parse(path.read_text()).body if isinstance(node, ast.FunctionDef)}
        for name in sorted(each for each in tests if each.startswith("test_")):
            assert (f"tests.published.{path.stem}", name) in noted, f"{path.stem}: {name} guards nothing"
    assert all(check.source and check.guards for check in checks())


def test_no_check_guards_what_no_page_command_or_job_comes_to() -> None:
    rules = {rows_of(rule) for rule in Rule}
    named = {each for each in guarded() if each not in rules}
    every = {f"{where}:{name}" for where, module in modules().items() for name in module.names}
    assert named - every == set()
    assert named - in_use() == set()


def test_every_delivered_row_has_a_check() -> None:
    """`test_delivered_rows` compares all rows of a rule, so a rule with a check has no row without one."""
    of_rows = {
        each for check in checks() if check.module.endswith("test_delivered_rows") for each in check.guards
    }
    assert {rows_of(row.rule) for row in FIGURES} <= of_rows


def test_every_constant_of_the_trade_has_a_check_or_says_that_it_has_no_source() -> None:
    used, held = in_use(), guarded()
    bare = {
        name
        for name, says_so in every_constant()
        if name in used and not says_so and name not in held and not is_technical(name)
    }
    assert bare == set()


def test_what_is_listed_as_technical_is_there() -> None:
    names = {name for name, _says_so in every_constant()}
    assert [each for each in TECHNICAL if not any(is_of(name, each) for name in names)] == []
    assert {name for name in guarded() & names if is_technical(name)} == set()


def is_technical(name: str) -> bool:
    return any(is_of(name, each) for each in TECHNICAL)


def is_of(name: str, listed: str) -> bool:
    """Whether a constant is one that is listed, or stands in a module or package that is."""
    return name == listed if ":" in listed else name.partition(":")[0].startswith(listed)


def test_the_table_is_current() -> None:
    """`make docs` writes it."""
    assert TABLE.read_text() == table()


@pytest.mark.parametrize(
    ("text", "says_so"),
    [
        ("A = 3\n", False),
        ("A = 3  # common practice, no source\n", True),
        ("# Value from memory, not verified.\nB = 2\nA = 3\n", True),
        ("# No source at all, no source.\nB = 2\n\nA = 3\n", False),
        ('"""Ours, a judgement."""\n\nA = (3, 4)\n', True),
    ],
)
def test_the_search_sees_what_stands_beside_a_constant(text: str, says_so: bool) -> None:
    assert dict(constants_of(text, "m"))["m:A"] is says_so


def test_the_search_sees_what_is_in_use() -> None:
    """A page's computation is; what was written ahead is not."""
    assert "sessions.planning.load:week" in in_use()
    assert "sessions.planning.refit.carry:carry" in in_use()
    assert "sessions.planning.rotation.shuffle:shuffle_teams" not in in_use()
    assert "drills.game.space:bands_at" not in in_use()
