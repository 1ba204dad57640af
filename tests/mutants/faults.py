"""What may be wrong in a line of Python: each small fault as a span of bytes and what stands there instead.

Faults are of the sort that a careless edit makes: a comparison turned, a condition that always or never holds, a term or a
keyword left out, a call not made, a neighbouring attribute read, a number one off. Words are left alone.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass

COMPARISONS: dict[type[ast.cmpop], tuple[str, str]] = {
    ast.Lt: ("<", "<="),
    ast.LtE: ("<=", "<"),
    ast.Gt: (">", ">="),
    ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.In: ("in", "not in"),
    ast.NotIn: ("not in", "in"),
    ast.Is: ("is", "is not"),
    ast.IsNot: ("is not", "is"),
}
ARITHMETIC: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "/"),
    ast.BitAnd: ("&", "|"),
    ast.BitOr: ("|", "&"),
}
OTHER_CALL = {"min": "max", "max": "min", "any": "all", "all": "any", "filter": "exclude", "exclude": "filter",
              "first": "last", "last": "first", "earliest": "latest", "latest": "earliest"}  # fmt: skip
CHAINED = {"filter", "exclude", "order_by", "distinct"}  # left out, all rows stay
PLAIN = {"strip", "lower", "casefold"}  # left out, the text stays as it was
ATOMS = (ast.Name, ast.Attribute, ast.Call, ast.Constant, ast.Subscript, ast.List, ast.Dict, ast.Set)
ALARMS = {"strict"}  # a keyword that only raises an alarm of the code itself
NOT_DECORATORS = {"property", "staticmethod", "classmethod", "overload", "contextmanager", "cached_property"}


@dataclass(frozen=True, slots=True)
class Fault:
    """Bytes `start` to `end` of the source give way to `text`."""

    kind: str
    start: int
    end: int
    text: str


class Source:
    """A file's text, with the bytes of each node."""

    def __init__(self, text: bytes) -> None:
        self.text = text
        self.starts = [0]
        for line in text.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))

    def start(self, node: ast.AST) -> int:
        """The first byte of a node."""
        return self.starts[node.lineno - 1] + node.col_offset  # type: ignore[attr-defined]

    def end(self, node: ast.AST) -> int:
        """The byte after a node."""
        return self.starts[node.end_lineno - 1] + node.end_col_offset  # type: ignore[attr-defined]

    def of(self, node: ast.AST) -> str:
        """A node as it is written."""
        return self.text[self.start(node) : self.end(node)].decode()

    def wrapped(self, node: ast.AST) -> str:
        """A node as it may stand anywhere."""
        return self.of(node) if isinstance(node, ATOMS) else f"({self.of(node)})"

    def instead(self, kind: str, node: ast.AST, text: str) -> Fault:
        """A fault in place of a whole node."""
        return Fault(kind, self.start(node), self.end(node), text)

    def between(self, kind: str, left: ast.AST, right: ast.AST, old: str, new: str) -> Iterator[Fault]:
        """A fault in the sign between two nodes."""
        start, end = self.end(left), self.start(right)
        words = self.text[start:end].decode()
        if old in words:
            yield Fault(kind, start, end, words.replace(old, new, 1))

    def without(self, kind: str, several: list[ast.AST], number: int) -> Fault:
        """A fault that leaves one of several nodes out, with its comma."""
        if number:
            return Fault(kind, self.end(several[number - 1]), self.end(several[number]), "")
        if len(several) > 1:
            return Fault(kind, self.start(several[0]), self.start(several[1]), "")
        return Fault(kind, self.start(several[0]), self.end(several[0]), "")


def _compare(source: Source, node: ast.Compare) -> Iterator[Fault]:
    sides = [node.left, *node.comparators]
    for number, sign in enumerate(node.ops):
        old, new = COMPARISONS[type(sign)]
        yield from source.between("comparison", sides[number], sides[number + 1], old, new)


def _arithmetic(source: Source, node: ast.BinOp) -> Iterator[Fault]:
    if type(node.op) in ARITHMETIC:
        yield from source.between("arithmetic", node.left, node.right, *ARITHMETIC[type(node.op)])
        yield source.instead("term left out", node, source.wrapped(node.left))


def _junction(source: Source, node: ast.BoolOp) -> Iterator[Fault]:
    old, new = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
    for left, right in zip(node.values, node.values[1:], strict=False):
        yield from source.between("junction", left, right, old, new)
    for number in range(len(node.values)):
        rest = [source.wrapped(each) for place, each in enumerate(node.values) if place != number]
        yield source.instead("condition left out", node, f" {old} ".join(rest))


def _not(source: Source, node: ast.UnaryOp) -> Iterator[Fault]:
    if isinstance(node.op, ast.Not | ast.USub):
        yield source.instead("sign left out", node, source.of(node.operand))


def _branch(source: Source, node: ast.If | ast.IfExp | ast.While) -> Iterator[Fault]:
    if not isinstance(node, ast.While):
        yield source.instead("always", node.test, "True")
    yield source.instead("never", node.test, "False")


def _filtered(source: Source, node: ast.comprehension) -> Iterator[Fault]:
    for each in node.ifs:
        yield source.instead("always", each, "True")


def _constant(source: Source, node: ast.Constant) -> Iterator[Fault]:
    if isinstance(node.value, bool):
        yield source.instead("turned", node, str(not node.value))
    elif isinstance(node.value, int | float):
        yield source.instead("number", node, f"{node.value + 1}")


def _call(source: Source, node: ast.Call) -> Iterator[Fault]:
    given: list[ast.AST] = [*node.args, *node.keywords]
    for number, each in enumerate(given):
        if isinstance(each, ast.keyword) and each.arg and each.arg not in ALARMS:
            yield source.without("keyword left out", given, number)
    either = source.of(node.func) in {"min", "max"}
    if (
        len(node.args) > 1
        and not either
        and all(isinstance(x, ast.Name | ast.Attribute) for x in node.args[:2])
    ):
        first, second = (source.of(each) for each in node.args[:2])
        if first != second:
            yield Fault("swapped", source.start(node.args[0]), source.end(node.args[1]), f"{second}, {first}")
    yield from _called(source, node)


def _called(source: Source, node: ast.Call) -> Iterator[Fault]:
    name = node.func
    if isinstance(name, ast.Name) and name.id in OTHER_CALL:
        yield source.instead("other call", name, OTHER_CALL[name.id])
    if not isinstance(name, ast.Attribute):
        return
    base = source.of(name.value)
    if name.attr in OTHER_CALL and name.attr not in {"min", "max", "any", "all"}:
        yield source.instead("other call", name, f"{base}.{OTHER_CALL[name.attr]}")
    if name.attr in CHAINED:
        yield source.instead("call left out", node, f"{base}.all()")
    if name.attr in PLAIN:
        yield source.instead("call left out", node, base)


def _entries(source: Source, node: ast.Dict) -> Iterator[Fault]:
    if all(node.keys):
        for number, (key, value) in enumerate(zip(node.keys, node.values, strict=True)):
            assert key is not None
            if number + 1 < len(node.keys):
                after = node.keys[number + 1]
                assert after is not None
                yield Fault("entry left out", source.start(key), source.start(after), "")
            elif number:
                yield Fault("entry left out", source.end(node.values[number - 1]), source.end(value), "")


def _elements(source: Source, node: ast.List | ast.Set | ast.Tuple) -> Iterator[Fault]:
    alike = not isinstance(node, ast.Tuple) or len({type(each) for each in node.elts}) == 1
    if alike and isinstance(getattr(node, "ctx", ast.Load()), ast.Load) and len(node.elts) > 2:
        for number in range(len(node.elts)):
            yield source.without("element left out", list(node.elts), number)


def _statement(source: Source, node: ast.stmt) -> Iterator[Fault]:
    said = isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)
    set_on = isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Attribute | ast.Subscript)
    left = isinstance(node, ast.Return) and node.value is None
    if said or set_on or left or isinstance(node, ast.AugAssign | ast.Raise | ast.Delete):
        yield source.instead("not done", node, "pass")
    if isinstance(node, ast.Continue):
        yield source.instead("turned", node, "break")


def _function(source: Source, node: ast.FunctionDef) -> Iterator[Fault]:
    for each in node.decorator_list:
        words = source.of(each)
        name = words.split("(")[0].rsplit(".", 1)[-1]
        if "cache" not in words and name not in NOT_DECORATORS and name not in {"setter", "register"}:
            start = source.start(each) - 1  # with its @, and the rest of the line
            yield Fault("decorator left out", start, source.end(each), "# " + " ".join(words.split()))
    yield from _neighbours(source, node)


def _neighbours(source: Source, node: ast.FunctionDef) -> Iterator[Fault]:
    """Reads of one attribute in place of another of the same name in this function."""
    aside = {id(each.func) for each in ast.walk(node) if isinstance(each, ast.Call)}
    for whole in _not_read(node):
        aside |= {id(each) for each in ast.walk(whole)}
    reads: dict[str, list[ast.Attribute]] = {}
    for each in ast.walk(node):
        if (
            isinstance(each, ast.Attribute)
            and isinstance(each.value, ast.Name)
            and isinstance(each.ctx, ast.Load)
            and id(each) not in aside
        ):
            reads.setdefault(each.value.id, []).append(each)
    for name, found in reads.items():
        names = sorted({each.attr for each in found})
        for each in found if len(names) > 1 else ():
            other = names[(names.index(each.attr) + 1) % len(names)]
            yield source.instead("neighbour", each, f"{name}.{other}")


def _not_read(node: ast.FunctionDef) -> Iterator[ast.AST]:
    """Annotations, and texts with values in them, whose places are not told."""
    for each in ast.walk(node):
        if isinstance(each, ast.JoinedStr):
            yield each
        for name in ("annotation", "returns"):
            if isinstance(found := getattr(each, name, None), ast.AST):
                yield found


FINDERS: list[tuple[tuple[type[ast.AST], ...], Callable[[Source, object], Iterator[Fault]]]] = [
    ((ast.Compare,), _compare),
    ((ast.BinOp,), _arithmetic),
    ((ast.BoolOp,), _junction),
    ((ast.UnaryOp,), _not),
    ((ast.If, ast.IfExp, ast.While), _branch),
    ((ast.comprehension,), _filtered),
    ((ast.Constant,), _constant),
    ((ast.Call,), _call),
    ((ast.Dict,), _entries),
    ((ast.List, ast.Set, ast.Tuple), _elements),
    ((ast.stmt,), _statement),
    ((ast.FunctionDef,), _function),
]  # type: ignore[list-item]


def faults_of(source: Source, node: ast.AST) -> Iterator[Fault]:
    """All faults of one node itself."""
    for kinds, find in FINDERS:
        if isinstance(node, kinds):
            yield from find(source, node)
