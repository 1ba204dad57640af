"""Ages as a value: the one place that knows what "under n" is in years."""

import ast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from club.ages import Ages, under_of, under_words, years_of
from tests.club.test_source import sources

# What holds an age; `low` and `high` are sizes of grids as well, and stand beside such a name.
NAMES = ("age", "ages", "under", "years", "oldest", "youngest")


def test_an_under_12_is_11_on_the_date_and_turns_12_in_the_season() -> None:
    """The FA, age groups: under 12 at midnight on 31 August (read second-hand)."""
    ages = Ages(12)
    assert (ages.under_low, ages.under_high, ages.youngest_years, ages.words) == (12, 12, 11, "U12")


def test_two_year_groups_go_by_the_lower_age() -> None:
    ages = Ages(12, years=2)
    assert (ages.unders, ages.youngest_years, ages.words) == ((11, 12), 10, "U11–U12")


@pytest.mark.parametrize(("over", "years"), [(None, 18), (18, 18), (35, 35), (16, 16)])
def test_adults_are_open_ended(over: int | None, years: int) -> None:
    ages = Ages(None, over=over)
    assert (ages.unders, ages.youngest_years) == ((years + 1, None), years)
    assert ages.words == f"{years} and over"


def test_adults_look_after_themselves_and_a_group_with_children_does_not() -> None:
    assert Ages(None).supervised_years is None
    assert Ages(None, over=16).supervised_years == 16
    assert Ages(18).supervised_years == 17


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"under": 12, "years": 0}, "years"),
        ({"under": 12, "years": 13}, "years"),
        ({"under": 12, "over": 18}, "over"),
        ({"under": None, "years": 2}, "years"),
    ],
)
def test_what_is_no_age_group_is_refused_by_its_field(said: dict, field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}: "):
        Ages(**said)


@given(st.integers(0, 120))
def test_years_and_under_are_there_and_back(years: int) -> None:
    assert years_of(under_of(years)) == years
    assert under_of(years_of(years)) == years


@given(st.integers(1, 99), st.data())
def test_an_age_group_holds_as_many_year_groups_as_it_says(under: int, data: st.DataObject) -> None:
    years = data.draw(st.integers(1, under))
    ages = Ages(under, years)
    assert len(range(ages.under_low, under + 1)) == years
    assert under_of(ages.youngest_years) == ages.under_low >= 1


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (12, 12, "U12"),
        (9, 12, "U9–U12"),
        (13, None, "U13 and older"),
        (13, 99, "U13 and older"),
        (None, 9, "up to U9"),
        (None, None, ""),
    ],
)
def test_words_of_ages(low: int | None, high: int | None, words: str) -> None:
    assert under_words(low, high) == words


def _named(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.id if isinstance(node, ast.Name) else ""


def _is_age(node: ast.expr) -> bool:
    return not set(_named(node).split("_")).isdisjoint(NAMES)


def moved_by_one(tree: ast.AST) -> list[int]:
    """Lines that add or take 1 where an age is named."""
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.BinOp)
        and isinstance(node.op, ast.Add | ast.Sub)
        and any(isinstance(each, ast.Constant) and each.value == 1 for each in (node.left, node.right))
        and any(_is_age(each) for each in (node.left, node.right))
    ]


def test_nothing_else_adds_or_takes_a_year() -> None:
    found = {name: lines for name, tree in sources() if (lines := moved_by_one(tree))}
    assert set(found) == {"club/ages.py"}


@pytest.mark.parametrize("bad", ["doc.under_from - 1", "1 + age", "group.age_low + 1", "years -1"])
def test_the_search_finds_a_year_that_is_added(bad: str) -> None:
    assert moved_by_one(ast.parse(bad)) == [1]
