"""How many taps a coach's pieces of work take on a phone: no more than are written here."""

from typing import Any

from playwright.sync_api import expect

from tests.browser.at_the_pitch import begin_now
from tests.browser.pages import COACH
from tests.browser.taps import Hand
from tests.browser.test_propose import _worker
from tests.harness.accessible import complaints
from tests.harness.people import signed_in


def _at_home(demo_site: Any, phone: Any) -> Hand:
    signed_in(phone.context, demo_site, COACH)
    phone.goto(demo_site.address("/"))
    return Hand(phone)


def _newest() -> Any:
    from sessions.models import TrainingSession

    return TrainingSession.objects.latest("pk")


def test_the_next_free_slot_is_planned_with_a_suggestion(demo_site: Any, phone: Any) -> None:
    hand = _at_home(demo_site, phone)
    hand.tap("Plan a session")
    said = phone.locator(".lead").first.inner_text()
    assert complaints(phone, "new") == []
    hand.tap("Plan it", "button")
    session = _newest()
    assert f"{session.day:%a} {session.day.day} {session.day:%b} {session.starts:%H:%M}" in said
    assert (session.slot_day, session.bookings.count(), session.staff.count() > 0) == (session.day, 1, True)
    hand.tap("Suggest a session")
    assert phone.locator("[name^=keep]:checked").count() == 0
    hand.tap("Suggest a session", "button")
    phone.get_by_text("Waiting for its turn").wait_for()
    _worker()
    phone.get_by_role("button", name="Use this session").first.wait_for()
    hand.tap("Use this session", "button")
    phone.get_by_text("It is in the session, with tonight's numbers.").wait_for()
    assert session.parts.filter(stations__revision__isnull=False).count() >= 3
    assert hand.taps == 5


def test_the_next_free_slot_is_planned_by_hand(demo_site: Any, phone: Any) -> None:
    hand = _at_home(demo_site, phone)
    hand.tap("Plan a session")
    hand.tap("Plan it", "button")
    waiting = phone.locator("[data-part] h3", has_text="No drill yet")
    parts = waiting.count()
    for left in range(parts, 0, -1):
        assert waiting.count() == left
        hand.tap_on(phone.locator(".picks button").nth(left))
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
    hand.tap("Save the parts", "button")
    phone.get_by_text("Saved.").wait_for()
    played = _newest().parts.filter(stations__revision__isnull=False).count()
    assert (played, hand.taps) == (parts, parts + 3)


def test_tonights_session_is_run_from_the_first_page_to_what_it_was_like(demo_site: Any, pitch: Any) -> None:
    """The clock runs on by itself; a part is moved on by a press."""
    at_pitch = pitch()
    hand = Hand(at_pitch.page)
    hand.page.goto(demo_site.address("/"))
    hand.tap("Run it")
    hand.page.wait_for_selector("main[data-whole]")
    hand.tap_on(hand.page.locator("#all-here"))
    hand.tap_on(hand.page.locator("#begin"))
    hand.page.wait_for_selector('main[data-view="part"]')
    assert hand.taps == 3
    for _ in range(at_pitch.session.parts.count()):  # to the next part; the last time to what it was like
        at_pitch.hold("#next")
        hand.taps += 1
    hand.tap_on(hand.page.locator('#efforts [value="5"]'))
    hand.tap_on(hand.page.locator("#delivered"))
    expect(hand.page.locator("#after-said")).not_to_be_empty()
    assert hand.taps == 9


def test_fifteen_came_and_everything_is_set_up_for_them(demo_site: Any, pitch: Any) -> None:
    at_pitch = pitch()
    hand = Hand(at_pitch.page)
    hand.page.goto(demo_site.address("/"))
    hand.tap("Run it")
    hand.page.wait_for_selector("main[data-whole]")
    hand.tap_on(hand.page.locator("#all-here"))
    hand.tap("Set everything up for 15", "button")
    at_pitch.page.locator("[data-standing]").first.wait_for()
    hand.tap_on(hand.page.locator("#begin"))
    hand.page.wait_for_selector('main[data-view="part"]')
    assert hand.taps == 4


def test_a_drill_is_drawn_and_saved(demo_site: Any, phone: Any) -> None:
    """Four fields draw it, one more saves it: six before."""
    hand = _at_home(demo_site, phone)
    hand.tap("Library")
    hand.tap("A drill in a minute")
    for name, text in (("numbers", "5v5+2"), ("length", "30"), ("width", "20")):
        hand.type_in(name, text)
    phone.locator("#quick-plan svg").wait_for()
    hand.type_in("title", "Post Box")
    hand.type_in("say_1", "Keep it until somebody calls.")
    hand.tap("Save it as mine", "button")
    phone.get_by_role("heading", name="Post Box").wait_for()
    assert hand.taps == 8


def test_a_drill_for_eleven_on_a_small_space_is_found_and_run(demo_site: Any, phone: Any) -> None:
    begin_now()[0].delete()  # at whatever hour this runs, the coach is free and midnight far
    hand = _at_home(demo_site, phone)
    hand.tap("Run one drill now")
    for name, text in (("players", "11"), ("length", "25"), ("width", "18")):
        hand.type_in(name, text)
    hand.tap_on(phone.locator("main form button[type=submit]").first)
    hand.tap_on(phone.locator("main .card a, main li.row h3 a").first)
    hand.tap("Use this")
    hand.tap("Run it now", "button")
    phone.wait_for_url("**/pitch/")
    session = _newest()
    assert (session.players_expected, session.parts.count()) == (11, 1)
    assert hand.taps == 8
