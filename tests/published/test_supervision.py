"""Adults for children: NSPCC Child Protection in Sport Unit."""

import pytest

from sessions.planning.supervision import adults_needed, children_per_adult, supervise


@pytest.mark.parametrize(
    ("players", "age", "needed"), [(25, 13, 3), (25, 18, 3), (10, 13, 2), (9, 0, 3), (9, 2, 3)]
)
def test_published_vectors(players: int, age: int, needed: int) -> None:
    assert adults_needed(players, age) == needed


@pytest.mark.parametrize(("age", "ratio"), [(4, 6), (8, 6), (9, 8), (12, 8), (13, 10), (18, 10), (19, None)])
def test_ratio_by_age(age: int, ratio: int | None) -> None:
    assert children_per_adult(age) == ratio


def test_never_fewer_than_two_and_helpers_under_18_do_not_count() -> None:
    found = supervise(6, 11, adults=1, helpers_under_18=2)
    assert found.needed == 2
    assert [reason.code for reason in found.reasons] == ["adults_short", "helpers_not_counted"]
    assert found.reasons[0].text == "6 players need 2 adults; 1 is down for it."
    assert supervise(6, 11, adults=2).reasons == ()


def test_adults_among_themselves_need_nobody() -> None:
    assert adults_needed(20, 30) == 0
