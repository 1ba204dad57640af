"""The rule of `tests.source_rules` for docstrings of the pure packages: they say what a caller can't see from the types.

That is what a function is for, the unit of what may be a fraction, and the errors that it raises. Functions with an
underscore in front are left alone: nobody outside calls them, and what a dunder method is for the language says. Only
what making a value refuses stands in the docstring of its class.
"""

import ast
import re
from collections.abc import Iterator, Mapping

PURE = ("drills/game/", "drills/drawing/", "sessions/planning/", "sessions/pictures/", "sessions/sheet/")

# Error → why no docstring names it.
UNNAMED_ERRORS = {"AssertionError": "a fault of the program, which nothing that is given to it can cause"}
# Calls that refuse an impossible number with a ValueError; where a whole module does, its own docstring may say so once.
CHECKS = {"at_least", "whole", "cr10", "labels", "_check_positive"}

FRACTIONS = {"float", "Fraction", "Decimal"}
# Parts of names that say a unit, or that there is none. A property so called needs no docstring: its class says of what.
UNITS_IN_NAMES = {
    *("m", "m2", "mm", "cm", "km", "metres", "yards", "ft", "px", "pt", "u", "ppi"),
    *("s", "ms", "min", "seconds", "minutes", "hours", "days", "weeks"),
    *("au", "cr10", "c", "pct", "deg", "degrees", "share", "shares", "ratio"),
}
# What says it in a docstring. A share, ratio or factor, or a division written out, has no unit.
UNIT = re.compile(
    r"\b(?:(?:deci|centi|milli)?metres?|m/s|km/h|seconds?|minutes?|hours?|days?|weeks?|bouts|AU|CR10|degrees?|pixels?"
    r"|in points|points a minute|(?:tenths|thousandths) of a point|units?|per cent|shares?|ratios?|factors?|0 to 1)\b"
    r"|\b(?:in|\d) (?:mm?|cm|s)\b|m²|÷|%|°",
    re.IGNORECASE,
)
# Words of a docstring that add nothing to a name.
FILLERS = frozenset(
    ("a", "an", "the", "its", "this", "that", "of", "for", "to", "in", "is", "are", "returns", "gets")
)
MAKERS = {"__init__", "__post_init__"}

Function = ast.FunctionDef | ast.AsyncFunctionDef
Source = Mapping[str, ast.Module]


def public_functions(body: list[ast.stmt], of: str = "") -> Iterator[tuple[str, Function]]:
    """Functions of a module, and methods of its classes, that have no underscore in front; with their names."""
    for node in body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield from public_functions(node.body, f"{of}{node.name}.")
        elif isinstance(node, Function) and not node.name.startswith("_"):
            yield f"{of}{node.name}", node


def own_nodes(function: Function) -> Iterator[ast.AST]:
    """Everything in a function but what stands in functions and classes inside it."""
    left: list[ast.AST] = [*function.body]
    while left:
        node = left.pop()
        if not isinstance(node, Function | ast.ClassDef | ast.Lambda):
            yield node
            left.extend(ast.iter_child_nodes(node))


def name_of(node: ast.AST | None) -> str:
    """The last name in `a.b.c` or `a.b.c(…)`; empty for anything else."""
    node = node.func if isinstance(node, ast.Call) else node
    return node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")


def public_classes(body: list[ast.stmt]) -> Iterator[ast.ClassDef]:
    for node in body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield node
            yield from public_classes(node.body)


def errors_of(function: Function) -> set[str]:
    """Errors that a function raises itself; not those of its own module alone, and not what it raises again."""
    raised = {name_of(node.exc) for node in own_nodes(function) if isinstance(node, ast.Raise)}
    return {name for name in raised if name[:1].isupper()} - set(UNNAMED_ERRORS)


def checks_numbers(function: Function) -> bool:
    return any(isinstance(node, ast.Call) and name_of(node) in CHECKS for node in own_nodes(function))


def is_fraction(annotation: ast.expr | None) -> bool:
    """Whether a type is, or contains, a number with decimals; whole numbers mostly count what their name says."""
    nodes = ast.walk(annotation) if annotation is not None else ()
    return any(isinstance(node, ast.Name) and node.id in FRACTIONS for node in nodes)


def names_its_unit(name: str) -> bool:
    return not UNITS_IN_NAMES.isdisjoint(name.split("_"))


def without_unit(function: Function) -> list[str]:
    """What a function takes or answers that may be a fraction and whose name says no unit."""
    given = (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
    found = [each.arg for each in given if is_fraction(each.annotation) and not names_its_unit(each.arg)]
    answers = is_fraction(function.returns) and not names_its_unit(function.name)
    return [*found, "its answer"] if answers else found


def is_named_property(function: Function) -> bool:
    is_property = not {"property", "cached_property"}.isdisjoint(map(name_of, function.decorator_list))
    return is_property and names_its_unit(function.name)


def repeats_its_name(name: str, said: str) -> bool:
    """Whether every word of a docstring stands in the name already."""
    words = {word.rstrip("s") for word in re.findall(r"\w{1,40}", said.lower()) if word not in FILLERS}
    return words <= {word.rstrip("s") for word in name.lower().split("_")}


def lacks(function: Function, of_module: str) -> Iterator[str]:
    """What a docstring fails to say, each as the rest of a sentence about the function."""
    said = ast.get_docstring(function) or ""
    if not said and not is_named_property(function):
        yield "has no docstring"
    elif said and repeats_its_name(function.name, said):
        yield "has a docstring that only repeats its name"
    for error in sorted(errors_of(function)):
        if error not in said:
            yield f"raises {error}, which its docstring does not name"
    if checks_numbers(function) and "ValueError" not in said + of_module:
        yield "refuses numbers, and neither its docstring nor the module's names the ValueError"
    if said and (fractions := without_unit(function)) and not UNIT.search(said):
        yield f"says no unit of {', '.join(fractions)}"


def unnamed_refusals(made: ast.ClassDef, of_module: str) -> Iterator[str]:
    """Errors that making a value of a class raises, and that neither its docstring nor the module's names."""
    makers = [node for node in made.body if isinstance(node, Function) and node.name in MAKERS]
    said = " ".join([of_module, *(ast.get_docstring(each) or "" for each in (made, *makers))])
    for maker in makers:
        errors = errors_of(maker) | ({"ValueError"} if checks_numbers(maker) else set())
        yield from (
            f"raises {error} when made, which its docstring does not name"
            for error in sorted(errors)
            if error not in said
        )


def docstring_says_too_little(sources: Source) -> Iterator[str]:
    """Docstrings of the pure packages say what for, in which unit and with which errors: types say none of it."""
    for name, tree in sources.items():
        of_module = ast.get_docstring(tree) or ""
        for title, function in public_functions(tree.body) if name.startswith(PURE) else ():
            yield from (f"{name}:{function.lineno}: {title} {lack}" for lack in lacks(function, of_module))
        for made in public_classes(tree.body) if name.startswith(PURE) else ():
            yield from (
                f"{name}:{made.lineno}: {made.name} {lack}" for lack in unnamed_refusals(made, of_module)
            )
