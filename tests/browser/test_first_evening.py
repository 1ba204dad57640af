"""A new club's first evening on a phone: the library in one tap, and a session from a ready one without writing a word."""

import re
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.taps import Hand
from tests.harness.accessible import complaints
from tests.harness.people import signed_in

DIRECTOR = "director@demo.example"
A_MINUTE_MS = 60_000


@pytest.fixture
def new_club(demo_site: Any) -> Any:
    """The demo club's people, teams and pitches, without any drill, session or template."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(
            "TRUNCATE drills_drill, training_trainingsession, training_partorder, club_theme CASCADE"
        )
        cursor.execute("UPDATE club_clubsettings SET is_demo = false")
    return demo_site


@pytest.mark.sweep
def test_from_an_empty_library_to_a_session_set_up(new_club: Any, phone: Any) -> None:
    from drills import actions
    from drills.models import Drill
    from sessions.models import Station, TrainingSession

    signed_in(phone.context, new_club, DIRECTOR)
    phone.goto(new_club.address("/"))
    hand = Hand(phone)
    assert complaints(phone, "today of a new club") == []
    phone.set_default_timeout(A_MINUTE_MS)  # drills are set up on a machine that tests keep busy
    phone.set_default_navigation_timeout(A_MINUTE_MS)
    hand.tap("Begin with 43 drills and 42 ready sessions", "button")
    phone.get_by_text("43 drills and 42 ready sessions are yours").wait_for()
    assert Drill.objects.filter(state="club standard").count() == 43
    assert phone.get_by_text("The library is empty.").count() == 0
    phone.get_by_text("0 of 43 drills can be found by players and space.").wait_for()
    assert complaints(phone, "today while drills are worked out") == []
    after = 0
    while actions.rederive_outdated(after=after):  # as the worker, in its bites
        after = Drill.objects.filter(variations__isnull=False).latest("pk").pk
    phone.get_by_text("All drills can be found by players and space now.").wait_for()  # it comes by itself
    hand.tap("Plan a session")
    first = phone.locator("#ready li").first
    name = first.locator("h3").inner_text()
    hand.tap_on(first.get_by_role("button"))
    # Which slot is the next free one follows from the hour; on a small one something is different from the template.
    phone.get_by_text(re.compile(r"Planned(, and every drill is| and) set up\.")).wait_for()
    expect(phone.get_by_role("heading", level=1)).to_contain_text(name)
    session = TrainingSession.objects.latest("pk")
    stations = list(Station.objects.filter(part__session=session))
    assert len(stations) == session.parts.count() == 4
    assert all(each.setup for each in stations)
    assert hand.taps == 3
    assert complaints(phone, "a session from a ready one") == []


def test_another_team_brings_other_ready_sessions(demo_site: Any, phone: Any) -> None:
    signed_in(phone.context, demo_site, DIRECTOR)
    phone.goto(demo_site.address("/sessions/new/"))
    assert complaints(phone, "plan a session") == []
    for team, name in (("Wrens", "A ball for everybody"), ("Ravens", "All at once")):
        phone.locator("#id_squad").select_option(label=team, force=True)
        expect(phone.locator("#ready .note").first).to_contain_text(team)
        expect(phone.locator("#ready h3", has_text=name)).to_have_count(1)
        assert phone.locator("#ready li:visible").count() <= 3
    assert phone.locator("#ready h3", has_text="A ball for everybody").count() == 0
    theme = phone.locator("#id_theme option", has_text="Finish").get_attribute("value")
    phone.locator("#id_theme").select_option(theme, force=True)
    expect(phone.locator("#ready h3").first).to_have_text("Late into the box")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


def test_an_empty_session_begins_with_a_ready_one(demo_site: Any, phone: Any) -> None:
    from sessions.models import TrainingSession

    session = TrainingSession.objects.filter(state="planned", age_group__label="U12").latest("day")
    session.parts.all().delete()
    TrainingSession.objects.filter(pk=session.pk).update(title="", day=session.day + timedelta(0))
    signed_in(phone.context, demo_site, DIRECTOR)
    phone.goto(demo_site.address(f"/sessions/{session.public_id}/"))
    hand = Hand(phone)
    hand.tap("Begin with a ready session")
    assert complaints(phone, "ready sessions") == []
    hand.tap("Use this one", "button")
    phone.get_by_text("Planned, and every drill is set up.").wait_for()
    assert session.parts.filter(stations__setup__isnull=False).count() == 4
    assert hand.taps == 2
