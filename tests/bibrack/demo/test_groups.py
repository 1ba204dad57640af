"""The demo club's age groups against the published figures of their season."""

from datetime import date

import pytest

from bibrack.demo import people
from club import actions, queries
from club.choices import Rule
from club.models import AgeGroup

pytestmark = pytest.mark.django_db

# The FA, youth formats from season 2026-27 (second-hand), and its handbook 2016-17 before.
FROM_2026 = {"U7": "3v3", "U8": "5v5", "U9": "5v5", "U10": "7v7", "U11": "7v7", "U12": "9v9", "U14": "11v11", "U16": "11v11"}  # fmt: skip
BEFORE = {"U7": "5v5", "U8": "5v5", "U9": "7v7", "U10": "7v7", "U11": "9v9", "U12": "9v9", "U14": "11v11", "U16": "11v11"}  # fmt: skip


def groups(year: int) -> dict[str, AgeGroup]:
    actions.load_guidelines()
    return people.add_groups(people.add_season(date(year, 9, 1)))


@pytest.mark.parametrize(("year", "formats"), [(2025, BEFORE), (2026, FROM_2026)])
def test_each_is_one_year_group_in_the_format_of_the_season(year: int, formats: dict[str, str]) -> None:
    found = groups(year)
    assert {label: group.match_format for label, group in found.items()} == formats
    assert {label: group.ages.words for label, group in found.items()} == {label: label for label in formats}
    assert (found["U12"].ages.youngest_years, found["U7"].ages.youngest_years) == (11, 6)


@pytest.mark.parametrize("year", [2025, 2026])
def test_only_the_smallest_pitch_differs_from_the_published_one(year: int) -> None:
    """The U7 have the most that a 3v3 pitch may be; it is told beside the published size, and is not too large."""
    differ = {
        (label, each.rule)
        for label, group in groups(year).items()
        for each in queries.figures_beside(group)
        if each.differs
    }
    smallest = {("U7", Rule.MATCH_LENGTH_M), ("U7", Rule.MATCH_WIDTH_M)}
    assert differ == (smallest if year >= 2026 else set())


def test_load_is_budgeted_from_u11() -> None:
    """Mean CR10 4.5 for U11 and U12, 5 to U15, 6 above, matches 6: common practice, no source."""
    budgets = {label: group.week_load_au for label, group in groups(2026).items()}
    assert [label for label, au in budgets.items() if au is None] == ["U7", "U8", "U9", "U10"]
    assert budgets["U12"] == 2 * 75 * 4.5 + 60 * 6
