"""Every text in the source that can come to a screen, to paper or into an answer of the API, and where it stands.

In Python: what is given to gettext and its kin, and whatever else reads like words, but docstrings and what is raised
for programmers. In templates: what is written between tags, in attributes that are read, and in strings inside tags. In
scripts: what stands in quotes or between backticks. In the demo club: its drills' texts and its evenings.
"""

import ast
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args

from django.template.base import Lexer, TokenType

from drills.game.document import choices
from drills.game.scene import ClaimKind
from sessions.planning.assemble.library import LastWeek
from tests.words.shown import visible

ROOT = Path(__file__).resolve().parents[2]
APPS = ("bibrack", "club", "drills", "sessions")
GETTEXT = {
    "_",
    "gettext",
    "_now",
    "_noop",
    "gettext_lazy",
    "gettext_noop",
    "ngettext",
    "ngettext_lazy",
    "pgettext",
}
TWO_WORDS = re.compile(r"[^\W_]\S* [^\W\d_]{2,}|[^\W\d_]{2,}\S* [^\W_]")
IN_TAG = re.compile(r'"([^"]+)"' + r"|'([^']+)'")
IN_SCRIPT = re.compile(r'"((?:[^"\\\n]|\\.)*)"' + r"|'((?:[^'\\\n]|\\.)*)'" + r"|`((?:[^`\\]|\\.)*)`")
COMMENT = re.compile(r"^\s*(//|/?\*).*$", re.MULTILINE)
SAYS = re.compile(r"[^\W\d_]{2,}")
NAMES = re.compile(r"[\w./-]+")  # a key, a path or an address: no text
# Values that are stored or named in code; what a page says for them stands in texts of their own.
STORED = {
    *(
        each.value
        for kind in vars(choices).values()
        if isinstance(kind, type) and issubclass(kind, StrEnum)
        for each in kind
    ),
    *get_args(ClaimKind),
    *get_args(LastWeek),
    "neutral",  # the side of who plays for whoever has the ball
    "minutes bouts bout_s rest_s effort",  # fields of a form
}
# Files whose words somebody reads who runs the server or writes the program, not who uses it → why.
NOT_SHOWN = {
    "bibrack/management/": "commands",
    "drills/management/": "commands",
    "bibrack/run.py": "starts the server",
    "bibrack/programs.py": "starts the server",
    "bibrack/postgres/": "the database's supervisor",
    "bibrack/web/": "the web server",
    "bibrack/settings/": "settings",
    "bibrack/checks.py": "Django's checks",
    "templates/styleguide": "for whoever works on the looks; not on a club's own server",
}


@dataclass(frozen=True)
class Text:
    """A text, and the file and line where it stands."""

    where: str
    said: str

    def __str__(self) -> str:
        return f"{self.where}: {self.said}"


def texts() -> list[Text]:
    """Every text of the source that somebody may read who uses the app."""
    found = [*_of_python(), *_of_templates(), *_of_scripts(), *_of_demo()]
    return [each for each in found if each.said not in STORED and not each.where.startswith(tuple(NOT_SHOWN))]


def _of_python() -> Iterator[Text]:
    for app in APPS:
        for path in sorted((ROOT / app).rglob("*.py")):
            if "migrations" not in path.parts:
                yield from _in_module(path)


def _in_module(path: Path) -> Iterator[Text]:
    tree = ast.parse(path.read_text())
    told = {id(each) for call in ast.walk(tree) if _is_gettext(call) for each in ast.walk(call)}
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        if isinstance(node, ast.Raise):
            passed |= {id(each) for each in ast.walk(node)} - told
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or not isinstance(node.value, str) or id(node) in passed:
            continue
        if id(node) in told or TWO_WORDS.search(node.value):
            yield Text(f"{path.relative_to(ROOT)}:{node.lineno}", node.value)


def _is_gettext(node: ast.AST) -> bool:
    if not isinstance(node, ast.Call):
        return False
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    return name in GETTEXT


def _of_templates() -> Iterator[Text]:
    for path in sorted([*(ROOT / "templates").rglob("*.html"), *(ROOT / "templates").rglob("*.txt")]):
        written, where = [], str(path.relative_to(ROOT))
        for token in Lexer(path.read_text()).tokenize():
            if token.token_type == TokenType.TEXT:
                written.append(token.contents)
            elif token.token_type == TokenType.BLOCK and token.contents.split()[0] in ("translate", "trans"):
                written.append(next(a or b for a, b in IN_TAG.findall(token.contents)))
            elif token.token_type in (TokenType.BLOCK, TokenType.VAR):
                written.append("\u2026" if token.token_type == TokenType.VAR else "")
                for found in IN_TAG.findall(token.contents):
                    if TWO_WORDS.search(found[0] or found[1]):
                        yield Text(f"{where}:{token.lineno}", found[0] or found[1])
        whole = "".join(written)
        said = visible(whole) if path.suffix == ".html" else whole.splitlines()
        yield from (Text(where, each) for each in said if SAYS.search(each))


def _of_scripts() -> Iterator[Text]:
    for app in APPS:
        for path in sorted((ROOT / app / "static").rglob("*.js")):
            for number, line in enumerate(COMMENT.sub("", path.read_text()).splitlines(), 1):
                for found in IN_SCRIPT.findall(line):
                    said = next((each for each in found if each), "")
                    if TWO_WORDS.search(said):
                        yield Text(f"{path.relative_to(ROOT)}:{number}", said)


def _of_demo() -> Iterator[Text]:
    for path in sorted((ROOT / "bibrack" / "demo" / "drills").glob("*.json")):
        yield from (Text(str(path.relative_to(ROOT)), each) for each in _inside(json.loads(path.read_text())))


def _inside(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if not (NAMES.fullmatch(value) and "_" in value):
            yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _inside(each)
    elif isinstance(value, list):
        for each in value:
            yield from _inside(each)
