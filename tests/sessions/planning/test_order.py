"""Sharing a session's minutes out over the club's order of parts."""

from itertools import chain, product

import pytest

from sessions.planning.order import SHARES, slices


def test_the_minutes_are_shared_out_after_clearing_and_changeovers() -> None:
    found = slices(["arrival", "practice", "game"], minutes=75, clear_minutes=5, changeover_s=120)
    # 75 − 5 − 2 × 2 = 66 min over 1 + 2 + 2 shares
    assert [(each.kind, each.minutes) for each in found] == [("arrival", 13), ("practice", 26), ("game", 26)]
    assert [each.changeover_s for each in found] == [0, 120, 120]


def test_without_an_order_there_is_a_plain_one() -> None:
    found = slices([], minutes=60, clear_minutes=5, changeover_s=0)
    assert [each.kind for each in found] == ["arrival", "practice", "game"]


def test_an_unknown_part_is_named() -> None:
    with pytest.raises(ValueError, match=r"^order: there is no part called 'nap'"):
        slices(["nap"], minutes=60, clear_minutes=5, changeover_s=0)


def test_it_never_takes_longer_than_there_is() -> None:
    """Every order of up to four parts, unless the least minutes of a part already take it over."""
    for order in chain.from_iterable(product(SHARES, repeat=n) for n in range(1, 5)):
        for minutes, changeover_s in product((60, 75, 180), (0, 120, 180)):
            found = slices(order, minutes=minutes, clear_minutes=5, changeover_s=changeover_s)
            used = sum(each.minutes for each in found) + sum(each.changeover_s for each in found) / 60 + 5
            assert used <= minutes or any(each.minutes == 5 for each in found)
            assert all(each.minutes >= 5 for each in found)
