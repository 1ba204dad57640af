"""Adults for children where no figure, or a figure that says nothing, is at hand."""

import pytest

from sessions.planning.supervision import AdultRule, adults_needed


def test_adults_among_themselves_need_nobody() -> None:
    assert adults_needed(20, None) == 0


def test_a_rule_that_names_one_of_both_goes_by_that() -> None:
    assert adults_needed(20, AdultRule(8, None, "us")) == 3
    assert adults_needed(20, AdultRule(None, 2, "us")) == 2
    assert adults_needed(0, AdultRule(8, 2, "us")) == 0


@pytest.mark.parametrize(
    ("ratio", "fewest", "field"), [(0, 2, "children_per_adult"), (8, 0, "fewest"), (-8, 2, "children")]
)
def test_a_rule_that_says_nothing_is_refused(ratio: int, fewest: int, field: str) -> None:
    with pytest.raises(ValueError, match=field):
        AdultRule(ratio, fewest, "us")
