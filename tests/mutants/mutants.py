"""All mutants of a file, and the same few of them for one seed: a name that stays when lines above move."""

from __future__ import annotations

import ast
import difflib
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from tests.mutants.faults import ALARMS, Fault, Source, faults_of
from tests.mutants.rooms import files

ASIDE = ("log.", "logger.", "_log.")  # what is written to a log is not looked at


@dataclass(frozen=True, slots=True)
class Mutant:
    """A file with one fault. `lines`: where it stands; `wider`: the statement, or the head of the block, around it."""

    path: str
    room: str
    function: str  # qualified; empty for what runs on import
    fault: Fault
    number: int  # of faults of this kind in this function
    lines: range
    wider: range

    @property
    def name(self) -> str:
        """Its name in the list of judgements."""
        return f"{self.path} {self.function or '-'} {self.fault.kind} {self.number}"

    def applied(self, text: bytes) -> bytes:
        """The file with the fault."""
        return text[: self.fault.start] + self.fault.text.encode() + text[self.fault.end :]

    def diff(self, text: bytes) -> str:
        """What it changes, as a unified diff without context."""
        before, after = (each.decode().splitlines() for each in (text, self.applied(text)))
        lines = list(difflib.unified_diff(before, after, self.path, self.path, lineterm="", n=0))
        return "\n".join(lines[2:])


class _Walk:
    """Goes through a file, without annotations, docstrings, texts with values in them, and what only checkers read."""

    def __init__(self, path: str, room: str, text: bytes) -> None:
        self.path, self.room = path, room
        self.source = Source(text)
        self.tree = ast.parse(text)

    def mutants(self) -> Iterator[Mutant]:
        yield from self._inside(self.tree, "", self.tree.body[0])

    def _inside(self, node: ast.AST, function: str, statement: ast.AST) -> Iterator[Mutant]:
        for name, value in ast.iter_fields(node):
            if name in {"annotation", "returns", "type_params", "decorator_list"}:
                continue
            if isinstance(node, ast.ClassDef) and name in {"keywords", "bases"}:
                continue
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST) and not self._aside(child):
                    yield from self._at(child, function, child if isinstance(child, ast.stmt) else statement)

    def _at(self, node: ast.AST, function: str, statement: ast.AST) -> Iterator[Mutant]:
        inside = function
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            inside = f"{function}.{node.name}".lstrip(".")
        for fault in faults_of(self.source, node):
            yield self._mutant(fault, inside, statement)
        yield from self._inside(node, inside, statement)

    def _mutant(self, fault: Fault, function: str, statement: ast.AST) -> Mutant:
        first = self.source.text.count(b"\n", 0, fault.start) + 1
        last = self.source.text.count(b"\n", 0, fault.end) + 1
        wider = range(statement.lineno, _head_end(statement) + 1)  # type: ignore[attr-defined]
        if fault.kind == "decorator left out":
            wider = range(statement.body[0].lineno, statement.body[-1].end_lineno + 1)  # type: ignore[attr-defined]
        return Mutant(self.path, self.room, function, fault, 0, range(first, last + 1), wider)

    def _aside(self, node: ast.AST) -> bool:
        if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom):
            return True
        if isinstance(node, ast.keyword) and node.arg in ALARMS:
            return True
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            return True
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return True
        return isinstance(node, ast.Expr) and ast.unparse(node).startswith(ASIDE)


def _head_end(statement: ast.AST) -> int:
    body = getattr(statement, "body", None)
    if isinstance(body, list) and body:
        return max(statement.lineno, body[0].lineno - 1)  # type: ignore[attr-defined]
    return int(statement.end_lineno)  # type: ignore[attr-defined]


def _whole(mutant: Mutant, text: bytes) -> bool:
    """Whether the file still reads, and reads otherwise."""
    try:
        return _read(mutant.applied(text)) != _as_it_is(text)
    except SyntaxError:
        return False


def _read(text: bytes) -> str:
    return ast.dump(ast.parse(text))


_as_it_is = lru_cache(maxsize=None)(_read)


def all_of(root: Path, path: str, room: str) -> list[Mutant]:
    """Every mutant of a file, in the order of the source, numbered within its function and kind."""
    text = (root / path).read_bytes()
    counted: dict[tuple[str, str], int] = {}
    found = []
    for mutant in _Walk(path, room, text).mutants() if text.strip() else ():
        key = mutant.function, mutant.fault.kind
        counted[key] = counted.get(key, 0) + 1
        found.append(replace(mutant, number=counted[key]))
    return found


def sample(root: Path, many: int, seed: str, only: str = "") -> list[Mutant]:
    """As many from each room (or all from one), no two in one line; the order of a digest of seed and name decides."""
    rooms: dict[str, list[Mutant]] = {}
    for path, room in files(root).items():
        if only in {"", room}:
            rooms.setdefault(room, []).extend(all_of(root, path, room))
    share = -(-many // len(rooms))
    chosen = [each for found in rooms.values() for each in _first(root, found, share, seed)]
    return sorted(chosen, key=lambda each: _rank(each, seed))[:many]


def _rank(mutant: Mutant, seed: str) -> str:
    return hashlib.sha256(f"{seed} {mutant.name}".encode()).hexdigest()


def _first(root: Path, found: list[Mutant], many: int, seed: str) -> list[Mutant]:
    lines: set[tuple[str, int]] = set()
    chosen: list[Mutant] = []
    for mutant in sorted(found, key=lambda each: _rank(each, seed)):
        place = mutant.path, mutant.lines.start
        if len(chosen) < many and place not in lines and _whole(mutant, (root / mutant.path).read_bytes()):
            lines.add(place)
            chosen.append(mutant)
    return chosen
