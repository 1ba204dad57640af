"""The harness of the journeys itself: a copy of the demo club per test."""

import pytest


@pytest.mark.parametrize("turn", ["first", "second"])
def test_what_a_journey_changes_stays_in_its_copy(demo_site, turn: str) -> None:
    from club.queries.settings import club_settings

    club = club_settings()
    assert (club.is_demo, club.clear_minutes == 59) == (True, False)
    club.clear_minutes = 59
    club.save()
    assert club_settings().clear_minutes == 59


def test_the_site_answers_in_a_browser_at_both_sizes(demo_site, sized_page) -> None:
    answer = sized_page.goto(demo_site.address("/accounts/login/"))
    assert answer.status == 200
    assert sized_page.evaluate("window.innerWidth") in (360, 1280)
