"""The rows that the app is delivered with, as a set."""

from decimal import Decimal

from club.actions.guidelines import FIGURES
from club.choices import BOUNDS


def test_no_figure_speaks_twice_for_one_age_at_one_time() -> None:
    """What the database refuses, told before it is asked."""
    for index, one in enumerate(FIGURES):
        for other in FIGURES[index + 1 :]:
            if (one.rule, one.jurisdiction, one.a_side) == (other.rule, other.jurisdiction, other.a_side):
                apart = one.under_high < other.under_low or other.under_high < one.under_low
                assert apart or one.valid != other.valid, (one, other)


def test_every_delivered_figure_may_be_saved() -> None:
    for each in FIGURES:
        least, most = BOUNDS[each.rule]
        assert least <= Decimal(str(each.value)) <= most, each
