"""Two phones without signal that each add a trialist: nobody is lost, and whoever goes is the one who was tapped."""

from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.at_the_pitch import PATIENCE_MS, Pitch


def test_both_stay_on_both_phones_and_the_one_who_is_tapped_goes(pitch: Callable[..., Pitch]) -> None:
    one, two = pitch("coach@demo.example"), pitch("helper@demo.example")
    for phone in (one, two):
        phone.open("register")
        phone.page.context.set_offline(True)
        phone.page.click("#add-trialist")
        expect(phone.page.locator("#trialists .who")).to_have_text(["Trialist 1"])
    two.page.click("#add-trialist")
    two.page.locator("#trialists > li").nth(0).locator(".tap").click()  # its own first one goes again
    expect(two.page.locator("#trialists .who")).to_have_text(["Trialist 2"])
    for phone in (one, two):
        phone.page.context.set_offline(False)
        phone.sent_all()
    one.arrived(4)
    one.session.refresh_from_db()
    # The second phone's first one joined as number 2, since the number was taken, and it is that one who went.
    assert one.session.delivery["trialists"] == [1, 3]
    for phone in (one, two):
        phone.page.reload()  # the first hears of the second with the next that it sends, or when it is opened again
        phone.open("register")
        expect(phone.page.locator("#trialists .who")).to_have_text(
            ["Trialist 1", "Trialist 3"], timeout=PATIENCE_MS
        )
        expect(phone.page.locator("#trying")).to_have_text("+2")
