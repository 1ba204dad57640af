"""The rules of the source see what they look for and let alone what is fine; `make check` holds them."""

import ast

import pytest

from tests import source_rules as rules
from tests import source_rules_docstrings as docstrings


def sources(**texts: str) -> rules.Source:
    return {f"club/{name}.py": ast.parse(text) for name, text in texts.items()}


@pytest.mark.parametrize(
    ("one", "other", "again"),
    [
        ("MOST = 3", "_MOST = 3", 1),
        ("A, MOST = 1, 3", "MOST: int = 3", 1),
        ("MOST = 3", "MOST = 4", 0),
        ("MOST = 3", "from club.one import MOST", 0),
        ("MOST = LEAST", "MOST = LEAST", 0),
        ("SCHEMA = 1", "SCHEMA = 1", 0),
    ],
)
def test_a_value_that_stands_twice_is_seen(one: str, other: str, again: int) -> None:
    assert len(list(rules.same_value_twice(sources(one=one, other=other)))) == again


@pytest.mark.parametrize(
    ("other", "again"),
    [("class Grid(Shape): ...", 1), ("class Grids: ...", 0), ("from club.one import Grid", 0)],
)
def test_a_class_name_that_stands_twice_is_seen(other: str, again: int) -> None:
    sourced = sources(one="class Grid: ...\nclass _Row: ...", other=f"{other}\nclass _Row: ...")
    assert len(list(rules.class_name_twice(sourced))) == again


@pytest.mark.parametrize(
    ("pattern", "seen"),
    [
        (r"re.compile(r'a+')", True),
        (r"re.sub(r'(?:x|\s*)y', '', text)", True),
        (r"re.search(rf'(?={word})[a-z]{{2,}}', text)", True),
        (r"re.match(rb'.*?;', text)", True),
        (r"re.compile(r'(?:a{1,9}|b){0,80}')", False),
        (r"re.compile(r'[a-z]++\s*+')", False),
        (r"text.replace('a+', '')", False),
    ],
)
def test_a_pattern_without_a_bound_is_seen(pattern: str, seen: bool) -> None:
    assert bool(list(rules.pattern_without_bound(sources(one=pattern)))) is seen


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("bib = 'red'", True),
        ("_('The Yellows begin.')", True),
        ("said = 'one of the light blues'", True),
        ("said = 'credible, evergreen, red-handed'", False),
        ("def f():\n    '''The reds.'''", False),
    ],
)
def test_a_colour_in_code_is_seen(text: str, seen: bool) -> None:
    assert bool(list(rules.colour_in_code(sources(one=text)))) is seen


@pytest.mark.parametrize(
    "bad", ["text.isdigit()", "date.fromisoformat(x)", "json.loads(raw)", "parse_date(x)"]
)
def test_a_reader_of_pythons_own_is_seen(bad: str) -> None:
    assert len(list(rules.read_in_a_way_of_its_own(sources(one=bad)))) == 1


@pytest.mark.parametrize(
    ("line", "seen"),
    [("{{ note | safe }}", True), ("{% autoescape off %}", True), ("{{ note }} is safe", False)],
)
def test_a_text_that_is_not_escaped_is_seen(line: str, seen: bool) -> None:
    assert bool(list(rules.unescaped({"templates/one.html": line}))) is seen
    assert list(rules.unescaped({"templates/parts/field.html": line})) == []


def lacks(text: str, of_module: str = "") -> list[str]:
    trees = {"drills/game/one.py": ast.parse(f'"""{of_module}"""\n{text}'), "club/one.py": ast.parse(text)}
    return list(docstrings.docstring_says_too_little(trees))


@pytest.mark.parametrize(
    ("signature", "said", "lack"),
    [
        ("def area(side: float):", "", "has no docstring"),
        ("def area_m2(side_m: float) -> float:", "", "has no docstring"),
        ("def area_of_grid(grid):", "The area of the grid.", "only repeats its name"),
        ("def area(side: float):", "What is inside.", "no unit of side"),
        ("def area(*, sides: list[float]):", "What is inside.", "no unit of sides"),
        ("def area(grid) -> float | None:", "What is inside, or its points.", "no unit of its answer"),
        (
            "class Grid:\n  def area(grid) -> float:",
            "What is inside.",
            "Grid.area says no unit of its answer",
        ),
        ("def area(grid) -> tuple[Fraction, int]:", "Whose is it?", "no unit of its answer"),
    ],
)
def test_a_docstring_that_says_too_little_is_seen(signature: str, said: str, lack: str) -> None:
    body = f'    """{said}"""\n' if said else "    return 1\n"
    broken = lacks(f"{signature}\n{body}")
    assert len(broken) == 1
    assert broken[0].startswith("drills/game/one.py:")
    assert lack in broken[0]


@pytest.mark.parametrize(
    ("raised", "lack"),
    [
        ("raise ValueError('side: too long')", "raises ValueError,"),
        ("raise drills.UnclearFormat", "raises UnclearFormat,"),
        ("at_least('side', side, 0)", "refuses numbers"),
        ("return numbers.whole('side', side, 0)", "refuses numbers"),
    ],
)
def test_an_error_that_a_docstring_does_not_name_is_seen(raised: str, lack: str) -> None:
    text = f'def area(side):\n    """How much is inside.{{}}"""\n    if side:\n        {raised}'
    (broken,) = lacks(text.format(""))
    assert lack in broken
    assert lacks(text.format(" Raises ValueError, UnclearFormat.")) == []
    # What all functions of a module refuse is said once, above them; an error of one function is said beside it.
    assert bool(lacks(text.format(""), of_module="Below 0 is a ValueError.")) is (lack != "refuses numbers")


@pytest.mark.parametrize(
    "fine",
    [
        "def _area(side: float) -> float:\n    return side",
        "class _Grid:\n    def area(self): ...",
        "class Grid:\n    def __len__(self):\n        raise ValueError",
        "class Grid:\n    @property\n    def area_m2(self) -> float: ...",
        "class Grid:\n    @cached_property\n    def share(self) -> float: ...",
        "def area(side_m: float):\n    'What is inside.'",
        "def area(side: float):\n    'What is inside, in m².'",
        "def area(side: float) -> float:\n    'A share of the ground.'",
        "def area(count: int) -> int:\n    'How much is inside.'",
        "def area(side):\n    'What is inside.'\n    def inner(): raise ValueError\n    return inner",
        "def area(side):\n    'What is inside.'\n    raise AssertionError('never')",
        "def area(side):\n    'What is inside.'\n    try: ...\n    except ValueError: raise",
    ],
)
def test_a_docstring_that_says_enough_is_let_alone(fine: str) -> None:
    assert lacks(fine) == []


@pytest.mark.parametrize("refuses", ["raise ValueError('side: too long')", "at_least('side', self.side, 0)"])
@pytest.mark.parametrize("maker", ["__init__", "__post_init__"])
def test_what_making_a_value_refuses_is_named_by_its_class(maker: str, refuses: str) -> None:
    text = f'class Grid:\n    """Ground.{{}}"""\n    def {maker}(self):\n        {refuses}'
    (broken,) = lacks(text.format(""))
    assert "Grid raises ValueError when made" in broken
    assert lacks(text.format(" Raises ValueError.")) == []
    assert lacks(text.format(""), of_module="A number below 0 is a ValueError.") == []
    assert lacks(text.format("").replace("Grid", "_Grid")) == []


def test_what_may_break_a_rule_does() -> None:
    """An exception that nothing needs any more is taken off its table."""
    files = rules.read("*.py")
    trees = {
        name: ast.parse(text)
        for name, text in files.items()
        if name.startswith(rules.APPS) and "/migrations/" not in name
    }
    for table, rule in (
        (rules.SAME_BY_CHANCE, rules.same_value_twice),
        (rules.CLASSES_OF_ONE_NAME, rules.class_name_twice),
        (rules.UNBOUNDED, rules.pattern_without_bound),
        (rules.NAMES_COLOURS, rules.colour_in_code),
        (rules.READS, rules.read_in_a_way_of_its_own),
        (docstrings.UNNAMED_ERRORS, docstrings.docstring_says_too_little),
    ):
        kept = dict(table)
        table.clear()
        broken = "\n".join(rule(trees))
        table.update(kept)
        assert {each for each in kept if each not in broken} == set()
