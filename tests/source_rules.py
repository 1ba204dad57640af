"""Rules of the source that no linter knows, one function each: `python -m tests.source_rules`, part of `make check`.

Each rule names the lines that break it. What may break one stands in its table, with the reason. Rules that a linter
can hold stand in `pyproject.toml` (`banned-api`); what needs Django or a database is a test. The rule for docstrings has a
module of its own.
"""

import ast
import re
import subprocess
import sys
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import chain
from pathlib import Path
from re import _constants as constants  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

from drills.game.bibs import COLOURS
from tests.source_rules_docstrings import docstring_says_too_little

ROOT = Path(__file__).resolve().parents[1]
APPS = ("bibrack", "club", "drills", "sessions")

# Name → why several modules give it the same value: each means its own.
SAME_BY_CHANCE = {
    "SCHEMA": "each stored shape counts its own schemas",
    "SEED": "each solver has its own",
    "STEPS": "each stored shape has its own steps up, none so far",
    "OF_BIBS": "pure packages may not import the club's queries; tests/club/test_squad_pages.py compares them",
    "KEEPER": "a group's role in a drill, and a place of a rotation",
    "RESTING": "what a team that is off wears, and a place of a rotation",
    "MOST_PASSES": "each search has its own",
    "PERCENT": "a hundred",
    "WIDTH": "each drawing has its own",
}
# Class → why two modules define one of that name.
CLASSES_OF_ONE_NAME = {
    "Command": "the framework finds a command by it",
    "Variation": "a value in the document, and the row that is made of it",
}
# File → why its patterns need no bound.
UNBOUNDED = {
    "bibrack/postgres/": "reads what the database's own programs print",
}
# File → why it names colours.
NAMES_COLOURS = {
    "club/choices.py": "the words on forms",
    "drills/drawing/bibs.py": "the paint of each",
    "drills/forms/rows.py": "examples in help texts",
    "drills/game/bibs/": "the one list, and what a side wears that wears nothing",
    "drills/game/made/quick.py": "what a drill made in a minute is written with: it has no colours of its own yet",
    "bibrack/demo/": "the invented club's bibs",
    "sessions/planning/weather.py": "flags of a published guideline",
    "sessions/api/sheet.py": "black is an option of printing",
}
# Python's and the framework's own readers, each of which raises, or takes too much, for some text.
READERS = {
    *("isdigit", "isdecimal", "isnumeric", "fromisoformat", "strptime"),
    *("parse_date", "parse_datetime", "parse_time", "json.loads", "json.load"),
}
# File → why it reads by itself.
READS = {
    "club/reading.py": "the reader",
    "bibrack/postgres/": "reads the operating system's and its own files",
    "bibrack/programs.py": "reads the operating system's files",
    "drills/bridge.py": "reads our own rows",
    "drills/game/document/exchange.py": "rows of a file are refused one by one",
}
# Template → why it may write a text unescaped.
UNESCAPED = {"templates/parts/field.html": "help texts are ours, and some are lists that the framework wrote"}

Source = Mapping[str, ast.Module]
COLOUR = re.compile(rf"(?<![\w-])(?:{'|'.join(COLOURS)})s?(?![\w-])", re.IGNORECASE)
TRUSTS = re.compile(r"\|\s{0,9}safe\b|\bautoescape\s{1,9}off\b|\bsafeseq\b")


def allowed(name: str, table: Iterable[str]) -> bool:
    return name.startswith(tuple(table))


def constants_of(tree: ast.Module) -> Iterator[tuple[str, ast.expr, int]]:
    """Every named value of a module, without the underscore in front: name, value, line."""
    for node in tree.body:
        if isinstance(node, ast.Assign):
            given: list[tuple[ast.expr, ast.expr]] = [(each, node.value) for each in node.targets]
        elif isinstance(node, ast.AnnAssign) and node.value is not None:
            given = [(node.target, node.value)]
        else:
            continue
        for target, value in given:
            several = isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple)
            pairs = zip(target.elts, value.elts, strict=False) if several else [(target, value)]  # type: ignore[attr-defined]
            for name, each in pairs:
                if isinstance(name, ast.Name) and name.id.strip("_").isupper():
                    yield name.id.strip("_"), each, node.lineno


def is_written_out(value: ast.expr) -> bool:
    """Whether a value stands there by itself: no name that would lead to another one."""
    return not any(isinstance(node, ast.Name | ast.Call) for node in ast.walk(value))


def same_value_twice(sources: Source) -> Iterator[str]:
    """One fact is one named value, which others import: two of them drift apart."""
    found: dict[tuple[str, str], list[str]] = defaultdict(list)
    for name, tree in sources.items():
        for word, value, line in constants_of(tree):
            if is_written_out(value) and word not in SAME_BY_CHANCE:
                found[word, ast.dump(value)].append(f"{name}:{line}")
    yield from (
        f"{places[0]}: {word} stands again at {', '.join(places[1:])}"
        for (word, _), places in found.items()
        if len(places) > 1
    )


def class_name_twice(sources: Source) -> Iterator[str]:
    """A name that stands for two things is read as the wrong one; those with an underscore stay in their module."""
    found: dict[str, list[str]] = defaultdict(list)
    for name, tree in sources.items():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name].append(f"{name}:{node.lineno}")
    yield from (
        f"{places[0]}: class {name} stands again at {', '.join(places[1:])}"
        for name, places in found.items()
        if len(places) > 1 and name not in CLASSES_OF_ONE_NAME
    )


def pattern_of(node: ast.Call) -> str | bytes | None:
    """The pattern that is given to `re`, with "x" where a part of it is worked out."""
    at = node.func
    if not (isinstance(at, ast.Attribute) and getattr(at.value, "id", "") == "re" and node.args):
        return None
    first = node.args[0]
    if isinstance(first, ast.Constant) and isinstance(first.value, str | bytes):
        return first.value
    if isinstance(first, ast.JoinedStr):
        return "".join(str(each.value) if isinstance(each, ast.Constant) else "x" for each in first.values)
    return None


def is_unbounded(parsed: Iterable[Any]) -> bool:
    """Whether something may repeat without end and be tried again shorter; a possessive repetition is not tried again."""
    for kind, about in parsed:
        repeats = kind in (constants.MAX_REPEAT, constants.MIN_REPEAT)
        if repeats and about[1] is constants.MAXREPEAT:
            return True
        inside = about if isinstance(about, tuple | list) else ()
        nested = [each for each in inside if isinstance(each, parser.SubPattern)]
        if kind is constants.BRANCH:
            nested = about[1]
        if any(map(is_unbounded, nested)):
            return True
    return False


def pattern_without_bound(sources: Source) -> Iterator[str]:
    """A pattern says how long what it repeats may be (or repeats possessively): a text of 100 kB costs it no seconds."""
    for name, tree in sources.items():
        if allowed(name, UNBOUNDED):
            continue
        for node in ast.walk(tree):
            pattern = pattern_of(node) if isinstance(node, ast.Call) else None
            if pattern is not None and is_unbounded(parser.parse(pattern)):
                yield f"{name}:{node.lineno}: {pattern!r} repeats without a bound"  # type: ignore[attr-defined]


def texts_of(tree: ast.Module) -> Iterator[ast.Constant]:
    """Every text of a module that is no docstring."""
    owners = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    said = {id(node.body[0]) for node in ast.walk(tree) if isinstance(node, owners) and node.body}
    skipped = {id(each.value) for each in ast.walk(tree) if isinstance(each, ast.Expr) and id(each) in said}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in skipped:
            yield node


def colour_in_code(sources: Source) -> Iterator[str]:
    """Colours follow what the club has and the drill says: a colour that code names is wrong on most evenings."""
    for name, tree in sources.items():
        if not allowed(name, NAMES_COLOURS):
            yield from (
                f"{name}:{node.lineno}: names a colour in {node.value!r}"
                for node in texts_of(tree)
                if COLOUR.search(str(node.value))
            )


def read_in_a_way_of_its_own(sources: Source) -> Iterator[str]:
    """Digits, days, times and JSON go through `club.reading`, which answers the same for every text."""
    for name, tree in sources.items():
        for node in ast.walk(tree) if not allowed(name, READS) else ():
            if isinstance(node, ast.Attribute | ast.Name):
                word = node.attr if isinstance(node, ast.Attribute) else node.id
                whole = f"{getattr(getattr(node, 'value', None), 'id', '')}.{word}"
                if word in READERS or whole in READERS:
                    yield f"{name}:{node.lineno}: {word} in place of club.reading"


def unescaped(templates: Mapping[str, str]) -> Iterator[str]:
    """Templates escape all that they write; what is HTML already says so by its type (`SafeString`)."""
    for name, text in templates.items():
        if not allowed(name, UNESCAPED):
            for number, line in enumerate(text.splitlines(), 1):
                if TRUSTS.search(line):
                    yield f"{name}:{number}: writes a text unescaped"


RULES: tuple[Callable[[Source], Iterator[str]], ...] = (
    same_value_twice,
    class_name_twice,
    pattern_without_bound,
    colour_in_code,
    read_in_a_way_of_its_own,
    docstring_says_too_little,
)


def read(*patterns: str) -> dict[str, str]:
    """The tracked files that match, and those that are to be tracked, by name."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard", "--", *patterns]
    names = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\0")
    return {
        each: (ROOT / each).read_text(encoding="utf-8") for each in names if each and (ROOT / each).is_file()
    }


def main() -> int:
    files = read(*(f"{app}/*.py" for app in APPS))
    sources = {name: ast.parse(text) for name, text in files.items() if "/migrations/" not in name}
    broken = [*chain.from_iterable(rule(sources) for rule in RULES), *unescaped(read("*.html"))]
    print("\n".join(broken) or f"{len(RULES) + 1} rules of the source hold.")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
