"""Everything set up for tonight's number in a real browser: at the desk, and at the pitch from the register."""

import re
from collections.abc import Callable
from typing import Any

from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.harness.accessible import complaints
from tests.harness.browsers import DESK
from tests.sessions.set_ups import setup_of


def stations(phone: Pitch) -> list[Any]:
    from sessions.models import Station

    found = Station.objects.filter(part__session=phone.session, revision__isnull=False)
    return list(found.select_related("part").order_by("part__position", "position"))


def test_one_button_sets_the_evening_up_and_one_part_goes_back(pitch: Callable[..., Pitch]) -> None:
    desk = pitch(size=DESK)
    expected, page = 14, desk.page  # two more than it is set up for
    type(desk.session).objects.filter(pk=desk.session.pk).update(players_expected=expected)
    before = [each.setup for each in stations(desk)]
    page.goto(desk.url.replace("pitch/", ""))
    page.click(f"text=Set everything up for {expected}")
    page.wait_for_url(re.compile("/set-up/"))
    expect(page.locator("body")).to_contain_text(f"Set up for {expected}.")
    rows = page.locator("[data-standing]")
    assert rows.count() == len(before)
    assert {each.evening["players"] for each in stations(desk)} == {expected}
    first = rows.first
    expect(first).to_contain_text(f"set up for {expected}")
    first.locator("text=Back to the drill as written").click()
    expect(page.locator("[data-standing]").first).to_contain_text("As written")
    assert [each.setup is None for each in stations(desk)] == [True, *[False] * (len(before) - 1)]
    assert complaints(page, "set up") == []


def test_the_register_offers_it_and_every_part_that_is_to_come_is_redrawn(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch("helper@demo.example")
    phone.open()
    phone.page.click("#begin")  # the first part has begun: it stays as it is
    phone.go("register")
    expect(phone.page.locator("#everything")).to_be_hidden()
    phone.page.click("#all-here")
    offer = phone.page.locator("#set-up-all")
    expect(offer).to_have_text("Set everything up for 15")
    first, *later = stations(phone)
    stale = phone.page.locator(f'[data-part="{later[0].part.public_id}"] .stale li')
    expect(stale).to_have_text(re.compile(r"^Set up for \d+, and there are 15 now\.$"))
    expect(phone.page.locator(f'[data-part="{first.part.public_id}"] .stale li')).to_have_count(0)
    offer.click()
    expect(phone.page.locator("#became")).to_contain_text("Set up for 15.")
    expect(offer).to_be_hidden()
    expect(stale).to_have_count(0)
    assert complaints(phone.page, "register") == []
    now = stations(phone)
    assert (now[0].setup, now[0].evening) == (first.setup, first.evening)
    assert [each.evening["players"] for each in now[1:]] == [15] * len(later)
    for station in now[1:]:
        phone.go("more")
        phone.page.click(f'[data-go="{station.part.public_id}"]')
        phone.says(".tonight p", re.compile(f"^Tonight {re.escape(setup_of(station).numbers)} on "))
        phone.says(".fitted", re.compile(f"^Tonight {re.escape(setup_of(station).numbers)} on "))
    phone.sent_all()
    kinds = [kind for kind, _body in phone.events()]
    assert kinds.count("fit_accepted") == len(later)
    phone.page.reload()
    phone.go("register")
    expect(phone.page.locator("#everything")).to_be_hidden()
