"""Adults for children: NSPCC Child Protection in Sport Unit, with the rows that the app is delivered with."""

import pytest

from club.actions.guidelines import FIGURES
from club.ages import Ages
from club.choices import Rule
from club.queries import holding
from sessions.planning.supervision import AdultRule, adults_needed, supervise
from sessions.queries.guides import adult_rule
from tests.published.registry import guards

CPSU = "NSPCC Child Protection in Sport Unit, supervision ratios"


def rule(years: int) -> AdultRule | None:
    """What is in force for children of this age in years, as delivered."""
    return adult_rule(holding(FIGURES, Ages(years + 1), None))  # type: ignore[arg-type]


@guards(
    "sessions.planning.supervision:adults_needed",
    "sessions.queries.guides:adult_rule",
    Rule.CHILDREN_PER_ADULT,
    Rule.LEAST_ADULTS,
    source=CPSU,
)
@pytest.mark.parametrize(
    ("players", "years", "needed"),
    [(25, 13, 3), (25, 17, 3), (10, 13, 2), (24, 8, 4), (24, 9, 3), (3, 12, 2)],
)
def test_published_vectors(players: int, years: int, needed: int) -> None:
    """Needed are the children over the ratio, rounded up, and never fewer than two."""
    assert adults_needed(players, rule(years)) == needed


@guards("sessions.queries.guides:adult_rule", Rule.CHILDREN_PER_ADULT, source=CPSU)
@pytest.mark.parametrize(("years", "ratio"), [(4, 6), (8, 6), (9, 8), (12, 8), (13, 10), (18, 10)])
def test_ratio_by_age(years: int, ratio: int) -> None:
    found = rule(years)
    assert found is not None
    assert (found.children_per_adult, found.fewest, found.source) == (ratio, 2, CPSU)
    assert rule(19) is None


@guards("sessions.planning.supervision:supervise", Rule.LEAST_ADULTS, source=CPSU)
def test_never_fewer_than_two_and_helpers_under_18_do_not_count() -> None:
    found = supervise(6, rule(11), adults=1, helpers_under_18=2)
    assert found.needed == 2
    assert [reason.code for reason in found.reasons] == ["adults_short", "helpers_not_counted"]
    assert found.reasons[0].text == "6 players need 2 adults; 1 is down for it."
    assert supervise(6, rule(11), adults=2).reasons == ()
