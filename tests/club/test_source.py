"""The source itself: what comes from outside goes through the reader. Simpler rules: `tests/source_rules.py`."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
APPS = ("club", "drills", "sessions", "bibrack")
# What came from a person or a program: `request.GET`, `self.request.POST`, `request.query_params`.
SENT = {"GET", "POST", "query_params"}
TAKEN = {"get", "getlist"}
READERS = {
    "whole",
    "version",
    "number",
    "day",
    "monday",
    "clock",
    "moment",
    "outer_id",
    "text",
    "texts",
    "as_typed",
}
# Of other modules, but over the reader: each takes one text.
OVER_IT = {"_number"}
# Where the reader stands, and what reads no text of a person: the operating system's, its own files, our own rows.
MAY = {"club/reading.py", "bibrack/postgres", "bibrack/programs.py", "drills/bridge.py"}


def sources() -> Iterator[tuple[str, ast.Module]]:
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            name = path.relative_to(ROOT).as_posix()
            if "/migrations/" not in name and not name.startswith(tuple(MAY)):
                yield name, ast.parse(path.read_text(encoding="utf-8"))


def called(node: ast.Call) -> str:
    """The last word of what is called."""
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def is_sent(node: ast.expr) -> bool:
    return isinstance(node, ast.Attribute) and node.attr in SENT


def also_called(tree: ast.AST) -> set[str]:
    """Other names of what was sent: `params = request.query_params`."""
    given = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
    ]
    return {
        each.targets[0].id  # type: ignore[attr-defined]
        for each in given
        if is_sent(each.value) or (isinstance(each.value, ast.IfExp) and is_sent(each.value.body))
    }


def takes(node: ast.AST, names: set[str]) -> bool:
    """Whether this is `request.GET.get(…)`, `request.POST["…"]` and so on."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in TAKEN:
        holder = node.func.value
    elif isinstance(node, ast.Subscript):
        holder = node.value
    else:
        return False
    return is_sent(holder) or getattr(holder, "id", "") in names


def raw(tree: ast.AST) -> Iterator[int]:
    """Lines where something sent is used without a reader; to compare it with a word, or to ask whether it is there, is fine."""
    fine, names = set(), also_called(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and called(node) in READERS | OVER_IT:
            fine |= {id(each) for each in [*node.args, *(each.value for each in node.keywords)]}
        elif isinstance(node, ast.Compare):
            fine |= {id(each) for each in [node.left, *node.comparators]}
    yield from (node.lineno for node in ast.walk(tree) if takes(node, names) and id(node) not in fine)  # type: ignore[attr-defined]


def test_what_is_sent_goes_through_the_reader() -> None:
    assert [f"{name}:{line}" for name, tree in sources() for line in raw(tree)] == []


@pytest.mark.parametrize(
    "bad",
    [
        "int(request.GET['page'])",
        "x = request.POST.get('version', '')",
        "f(request.query_params.get('fit'))",
        "[int(x) for x in self.request.POST.getlist('rows')]",
        "sent = request.GET; f(sent.get('x'))",
    ],
)
def test_the_check_sees_what_it_looks_for(bad: str) -> None:
    assert list(raw(ast.parse(bad))) == [1]
