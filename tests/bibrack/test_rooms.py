"""What the import contracts can't say of the rooms: rows known by type alone, no ORM in what is shown, folders that one can read."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
APPS = ("bibrack", "club", "drills", "sessions")
MOST_IN_A_FOLDER = 25
# Data, one document to a file.
NOT_COUNTED = {"bibrack/demo/drills"}
OF_THE_ORM = {
    "objects",
    "select_related",
    "prefetch_related",
    "annotate",
    "values_list",
    "raw",
    "save",
    "delete",
}


def modules() -> Iterator[tuple[str, ast.Module]]:
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def shows(name: str) -> bool:
    """Whether a module stands in a room of what is shown."""
    return "/pages/" in name or name in ("bibrack/pages.py", "sessions/proposals/pages.py")


def asks(tree: ast.AST) -> Iterator[int]:
    """Lines that ask the database."""
    for node in ast.walk(tree):
        if (isinstance(node, ast.ImportFrom) and (node.module or "").startswith("django.db")) or (
            isinstance(node, ast.Attribute) and node.attr in OF_THE_ORM
        ):
            yield node.lineno


def types_only(tree: ast.Module) -> Iterator[str]:
    """Modules that are imported for their types alone."""
    for block in tree.body:
        if isinstance(block, ast.If) and getattr(block.test, "id", "") == "TYPE_CHECKING":
            yield from (node.module or "" for node in block.body if isinstance(node, ast.ImportFrom))


def test_what_is_shown_asks_the_database_nothing_by_itself() -> None:
    assert [f"{name}:{line}" for name, tree in modules() if shows(name) for line in asks(tree)] == []


def test_only_what_is_shown_knows_rows_by_their_types() -> None:
    """The contracts look past such imports, so nothing else may be imported that way, and from no room above."""
    found = {name: set(types_only(tree)) for name, tree in modules()}
    assert {name for name, seen in found.items() if seen and not shows(name)} == set()
    for name, seen in found.items():
        assert seen <= {f"{name.split('/')[0]}.models", "club.models"}, name


@pytest.mark.parametrize("bad", ["from django.db.models import Q", "Drill.objects.first()", "row.save()"])
def test_the_search_finds_what_asks(bad: str) -> None:
    assert list(asks(ast.parse(bad))) == [1]


def test_a_folder_can_be_read() -> None:
    files = [path for room in (*APPS, "templates") for path in (ROOT / room).rglob("*.*")]
    inside = Counter(
        path.parent.relative_to(ROOT).as_posix()
        for path in files
        if path.suffix in (".py", ".html", ".js", ".css", ".json")
    )
    assert {
        folder: count
        for folder, count in inside.items()
        if count > MOST_IN_A_FOLDER and folder not in NOT_COUNTED
    } == {}
