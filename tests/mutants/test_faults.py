"""The faults themselves: a line, and everything that it may be turned into."""

import ast
from pathlib import Path

import pytest

from tests.mutants.mutants import all_of, sample

ROOT = Path(__file__).parents[2]


def turned(tmp_path: Path, text: str) -> dict[str, set[str]]:
    """By kind of fault, what a file of one function may say instead of its last line."""
    (tmp_path / "file.py").write_text(text)
    found: dict[str, set[str]] = {}
    for mutant in all_of(tmp_path, "file.py", "room"):
        after = mutant.applied(text.encode()).decode()
        found.setdefault(mutant.fault.kind, set()).add(after.splitlines()[-1].strip())
    return found


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("return a <= b", {"comparison": {"return a < b"}}),
        ("return a not in b", {"comparison": {"return a in b"}}),
        ("return a + b", {"arithmetic": {"return a - b"}, "term left out": {"return a"}}),
        (
            "return a and not b",
            {
                "junction": {"return a or not b"},
                "condition left out": {"return a", "return (not b)"},
                "sign left out": {"return a and b"},
            },
        ),
        ("return a if b else c", {"always": {"return a if True else c"}, "never": {"return a if False else c"}}),
        ("return [a for a in b if a]", {"always": {"return [a for a in b if True]"}}),
        ("return f(a, x=1)", {"keyword left out": {"return f(a)"}, "number": {"return f(a, x=2)"}}),
        ("return f(a, b)", {"swapped": {"return f(b, a)"}}),
        ("return min(a, b)", {"other call": {"return max(a, b)"}}),
        ("return zip(f, strict=True)", {}),
        ("return a.p - a.q", {
            "arithmetic": {"return a.p + a.q"}, "term left out": {"return a.p"},
            "neighbour": {"return a.q - a.q", "return a.p - a.p"},
        }),
        ("return a.filter(b)", {"other call": {"return a.exclude(b)"}, "call left out": {"return a.all()"}}),
        ("return {a: b, c: b}", {"entry left out": {"return {c: b}", "return {a: b}"}}),
        ("f(a)", {"not done": {"pass"}}),
        ("a.b = c", {"not done": {"pass"}}),
        ("a += 1", {"not done": {"pass"}, "number": {"a += 2"}}),
        ("raise a", {"not done": {"pass"}}),
        ("return True", {"turned": {"return False"}}),
        ("log.info(a)", {}),
        ("return f'{a + 1}'", {}),
        ("b: a.P = a.q", {}),
    ],
)  # fmt: skip
def test_a_line_and_what_it_may_be_turned_into(
    tmp_path: Path, line: str, expected: dict[str, set[str]]
) -> None:
    assert turned(tmp_path, f"def found(a, b, c):\n    {line}") == expected


def test_a_decorator_is_left_out_and_a_property_stays_one(tmp_path: Path) -> None:
    (tmp_path / "file.py").write_text(
        "class A:\n    @property\n    @action(a)\n    def f(self):\n        return 0\n"
    )
    left = [each for each in all_of(tmp_path, "file.py", "room") if each.fault.kind == "decorator left out"]
    text = (tmp_path / "file.py").read_bytes()
    assert [each.applied(text).decode().splitlines()[2].strip() for each in left] == ["# action(a)"]
    assert [(each.function, list(each.wider)) for each in left] == [("A.f", [5])]


def test_a_sample_is_the_same_each_time_and_every_mutant_in_it_can_be_read() -> None:
    chosen = sample(ROOT, 20, "1", "access")
    assert [each.name for each in chosen] == [each.name for each in sample(ROOT, 20, "1", "access")]
    assert [each.name for each in chosen] != [each.name for each in sample(ROOT, 20, "2", "access")]
    assert len({(each.path, each.lines.start) for each in chosen}) == len(chosen) == 20
    for mutant in chosen:
        text = (ROOT / mutant.path).read_bytes()
        assert ast.dump(ast.parse(mutant.applied(text))) != ast.dump(ast.parse(text))
        assert mutant.room == "access"
