"""The source as those see it who look for wordings: which keys it names, and which of its texts a coach would read."""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from string import Formatter

from drills.game.wording.shapes import Wording

ROOT = Path(__file__).resolve().parents[1]
WORDS = re.compile(r"[^\W\d_]{2,},? [^\W\d_]{2,}")  # two words beside each other
REST = r"\w*"  # what is put in behind the beginning of a key
NUMBERS = {"words", "size", "tenth", "whole", "figures"}
TEXTS = {"", "word", "sentence", "clause"}
LISTS = {"commas", "semicolons", "spaces"}


def modules(*folders: str) -> Iterator[tuple[Path, ast.Module]]:
    """Every module of these folders but the catalogues, with its path from the root."""
    for folder in folders:
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "catalogue" not in (path.stem, path.parent.name):
                yield path.relative_to(ROOT), ast.parse(path.read_text())


def keys_of(node: ast.expr | None) -> Iterator[re.Pattern[str]]:
    """What an expression may come to, where it is a text, a choice of texts, or one with something put in."""
    if isinstance(node, ast.IfExp):
        yield from (*keys_of(node.body), *keys_of(node.orelse))
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield re.compile(re.escape(node.value))
    elif isinstance(node, ast.JoinedStr):
        written = [re.escape(each.value) if isinstance(each, ast.Constant) else REST for each in node.values]
        if written[0].endswith("_"):
            yield re.compile("".join(written))
    elif isinstance(node, ast.BinOp) and isinstance(node.left, ast.Constant):
        start = str(node.left.value)
        if start.endswith("_"):
            yield re.compile(re.escape(start) + REST)


def named(trees: Iterable[ast.Module]) -> set[re.Pattern[str]]:
    """Everything in these modules that may be a key."""
    nodes = (node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.expr))
    return {pattern for node in nodes for pattern in keys_of(node)}


def asked(tree: ast.Module, function: str) -> Iterator[tuple[int, re.Pattern[str]]]:
    """Line and key of every call of this function whose first argument can be read."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == function:
            yield from ((node.lineno, each) for each in keys_of(node.args[0] if node.args else None))


def unused(keys: Iterable[str], patterns: set[re.Pattern[str]]) -> list[str]:
    exact = {each.pattern for each in patterns}
    open_ended = [each for each in patterns if each.pattern.endswith(REST)]
    return [key for key in keys if key not in exact and not any(each.fullmatch(key) for each in open_ended)]


def prose(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and text of what reads like words: no docstrings, and nothing that is raised."""
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        if isinstance(node, ast.Raise):
            passed |= {id(each) for each in ast.walk(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in passed:
            yield from [(node.lineno, node.value)] if WORDS.search(node.value) else []


def parts_of(text: str) -> dict[str, str]:
    """The parts that a wording names, and how it wants them spoken."""
    return {name: how or "" for _, name, how, _ in Formatter().parse(text) if name is not None}


def sample(entry: Wording, count: int) -> dict[str, int | str | tuple[str, ...]]:
    """Parts that fill an entry; what is counted comes to `count`."""
    parts: dict[str, int | str | tuple[str, ...]] = {}
    for name, how in {**parts_of(entry.text), **parts_of(entry.one)}.items():
        parts[name] = 3 if how in NUMBERS else (("some", "more") if how in LISTS else "something")
    return {**parts, entry.counted: count} if entry.counted else parts
