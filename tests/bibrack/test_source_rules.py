"""The rules of the source see what they look for and let alone what is fine; `make check` holds them."""

import ast

import pytest

from tests import source_rules as rules


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
        (rules.UNBOUNDED, rules.pattern_without_bound),
        (rules.NAMES_COLOURS, rules.colour_in_code),
        (rules.READS, rules.read_in_a_way_of_its_own),
    ):
        kept = dict(table)
        table.clear()
        broken = "\n".join(rule(trees))
        table.update(kept)
        assert {each for each in kept if each not in broken} == set()
