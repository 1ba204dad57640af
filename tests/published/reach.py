"""What of the product is in use: every name at the top of a module that an address, a command, a job or a template's tag leads to.

The source is read, nothing is run. A name leads to each name that its code speaks of, through imports and what packages
hand on; a class is one thing with all that is in it.
"""

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
APPS = ("bibrack", "club", "drills", "sessions")
# Whatever stands in modules and folders of these names is called from outside.
DOORS = {
    *(
        "urls",
        "api_urls",
        "account_urls",
        "views",
        "api",
        "admin",
        "management",
        "templatetags",
        "tasks",
        "apps",
    ),
    *("middleware", "models", "forms"),
}


@dataclass
class Module:
    """Top-level names with the names that each speaks of, and what is imported under which name."""

    names: dict[str, set[str]] = field(default_factory=dict)
    imported: dict[str, str] = field(default_factory=dict)  # name here → `module:name`


def name_of(path: Path) -> str:
    parts = list(path.relative_to(ROOT).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def modules() -> dict[str, Module]:
    """Every module of the product but its migrations, by its dotted name."""
    paths = [
        path for app in APPS for path in sorted((ROOT / app).rglob("*.py")) if "migrations" not in path.parts
    ]
    trees = {name_of(path): ast.parse(path.read_text()) for path in paths}
    return {name: _read(tree) for name, tree in trees.items()}


def _read(tree: ast.Module) -> Module:
    found = Module()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for each in node.names:
                found.imported[each.asname or each.name] = f"{node.module}:{each.name}"
        elif isinstance(node, ast.Import):
            for each in node.names:
                found.imported[each.asname or each.name] = f"{each.name}:"
    for node in tree.body:
        for name in _defined(node):
            found.names.setdefault(name, set()).update(_spoken(node))
    return found


def _defined(node: ast.stmt) -> Iterator[str]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef | ast.AsyncFunctionDef):
        yield node.name
    elif isinstance(node, ast.Assign | ast.AnnAssign):
        for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
            yield from (each.id for each in ast.walk(target) if isinstance(each, ast.Name))


def _spoken(node: ast.AST) -> Iterator[str]:
    """`name`, and `name.attribute` where one stands behind it."""
    for each in ast.walk(node):
        if isinstance(each, ast.Attribute) and isinstance(each.value, ast.Name):
            yield f"{each.value.id}.{each.attr}"
        elif isinstance(each, ast.Name):
            yield each.id


def _resolved(where: str, name: str) -> str | None:
    """The `module:name` where a name is defined that a module speaks of; None for what is not the product's."""
    every = modules()
    for _ in range(12):  # a package may hand on what another hands on
        module = every.get(where)
        if module is None:
            return None
        first, _dot, rest = name.partition(".")
        if first in module.names:
            return f"{where}:{first}"
        target = module.imported.get(first)
        if target is not None and target != f"{where}:{first}":
            where, _colon, handed_on = target.partition(":")
            name = ".".join(filter(None, (handed_on, rest)))
        elif f"{where}.{first}" in every and rest:
            where, name = f"{where}.{first}", rest
        else:
            return None
    return None


@cache
def in_use() -> frozenset[str]:
    """Every `module:name` that is reached from a door."""
    every = modules()
    doors = (name for name in every if name.startswith("bibrack") or not DOORS.isdisjoint(name.split(".")))
    left = [
        f"{door}:{name}"
        for door in doors
        for name in every[door].names
        if not door.startswith("bibrack.demo")
    ]
    found: set[str] = set()
    while left:
        at = left.pop()
        if at in found:
            continue
        found.add(at)
        where, _colon, name = at.partition(":")
        left.extend(_next(where, every[where].names[name]))
    return frozenset(found)


def _next(where: str, names: Iterable[str]) -> Iterator[str]:
    for each in names:
        target = _resolved(where, each)
        if target is not None:
            yield target
