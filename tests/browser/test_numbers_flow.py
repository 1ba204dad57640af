"""Numbers flow in a real browser: absences, trialists, the stepper and the one offer; kit for the second grid."""

import re
from collections.abc import Callable
from typing import Any

from playwright.sync_api import expect

from sessions.pages.pitch.tonight import tonight_of
from sessions.queries import session_by_id
from sessions.queries.plan import session_view
from tests.browser.at_the_pitch import PATIENCE_MS, Pitch
from tests.browser.test_set_up_all import stations
from tests.harness.accessible import complaints


def test_after_everyone_else_is_here_an_absence_is_one_tap_and_a_slip_is_undone(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch("helper@demo.example")
    phone.open("register")
    phone.page.click("#all-here")
    names, tapped = phone.page.locator("#names > li"), phone.page.locator("#tapped")
    expect(tapped).to_contain_text("15 marked here. Tap whoever is not.")
    names.nth(3).locator(".tap").click()
    expect(names.nth(3).locator(".how")).to_have_text("not here")
    expect(tapped).to_contain_text(": not here")
    phone.page.evaluate("scrollTo(0, 1e6)")  # the line lies on what is scrolled, never on what ends the page
    assert complaints(phone.page, "register") == []
    tapped.locator("button").click()
    expect(names.nth(3).locator(".how")).to_have_text("here")
    expect(tapped).to_be_hidden()
    names.nth(4).locator(".tap").click()
    phone.page.click("#begin")  # the line of what was tapped covers no button
    phone.arrived(19)
    phone.session.refresh_from_db()
    states = [line["state"] for line in phone.session.delivery["register"].values()]
    assert (states.count("here"), states.count("absent")) == (14, 1)


def test_trialists_are_numbers_that_count_everywhere_and_leave_no_row(pitch: Callable[..., Pitch]) -> None:
    from sessions.models import Register

    phone, other = pitch("coach@demo.example"), pitch("helper@demo.example")
    phone.open("register")
    phone.page.click("#all-here")
    for _ in range(3):
        phone.page.click("#add-trialist")
    rows = phone.page.locator("#trialists > li")
    expect(rows.locator(".who")).to_have_text(["Trialist 1", "Trialist 2", "Trialist 3"])
    rows.nth(1).locator(".tap").click()
    expect(rows.locator(".who")).to_have_text(["Trialist 1", "Trialist 3"])
    expect(phone.page.locator("#trialing")).to_have_text("and 2 trialists")
    expect(phone.page.locator("#set-up-all")).to_have_text("Set everything up for 17")
    phone.arrived(19)
    other.open("register")
    expect(other.page.locator("#trialists .who")).to_have_text(["Trialist 1", "Trialist 3"])
    expect(other.page.locator("#came")).to_have_text("15/15")
    expect(other.page.locator("#trying")).to_have_text("+2")
    assert Register.objects.filter(session=phone.session).count() == 15
    phone.page.goto(phone.url.replace("pitch/", ""))
    expect(phone.page.locator("main")).to_contain_text("Set everything up for 17")


def test_the_stepper_starts_from_the_register_and_is_the_number_of_the_one_offer(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("register")
    phone.page.click("#all-here")
    phone.page.click("#begin")
    phone.part('[data-do="numbers"]').click()
    players, offer = phone.page.locator('[name="players"]'), phone.page.locator("#numbers #set-up-all")
    expect(players).to_have_value("15")
    expect(phone.page.locator("#by-register")).to_have_text("15 by the register")
    for _ in range(2):
        phone.page.click('[data-by="-1"]')
    expect(players).to_have_value("13")
    expect(phone.page.locator("#by-register")).to_have_text("You say 13. 15 by the register")
    expect(offer).to_have_text("Set everything up for 13")
    assert complaints(phone.page, "numbers") == []
    offer.click()
    expect(phone.page.locator("#became")).to_contain_text("Set up for 13.", timeout=PATIENCE_MS)
    expect(phone.page.locator("#became")).to_be_visible()
    first, *later = stations(phone)
    assert first.evening is None or first.evening["players"] != 13  # it has begun
    assert [each.evening["players"] for each in later] == [13] * len(later)
    phone.page.click('[data-by="1"]')
    expect(offer).to_have_text("Set everything up for 14")
    phone.go("register")
    expect(phone.page.locator("#register #set-up-all")).to_have_text("Set everything up for 14")
    phone.page.click("#add-trialist")  # somebody comes: the register's number again
    expect(phone.page.locator("#set-up-all")).to_have_text("Set everything up for 16")


def test_a_second_grid_says_what_more_to_carry_as_session_page_and_sheet_count_it(
    pitch: Callable[..., Pitch],
) -> None:
    type_of = {}
    phone = pitch()
    phone.open("register")
    phone.page.click("#all-here")
    for _ in range(6):
        phone.page.click("#add-trialist")
    phone.page.click("#set-up-all")
    expect(phone.page.locator("#became")).to_contain_text("Set up for 21.", timeout=PATIENCE_MS)
    session: Any = session_by_id(phone.session.public_id)
    for part in session_view(session).parts:
        shown = tonight_of(part.first)
        if shown.more:
            type_of[str(part.row.public_id)] = shown
    assert type_of  # with 21 at least one of the demo's parts plays on two grids
    for key, shown in type_of.items():
        phone.go("more")
        phone.page.click(f'[data-go="{key}"]')
        phone.says(".tonight .kit p >> nth=0", shown.kit)
        phone.says(".tonight .kit b", re.compile("^(Second grid|2 more grids): "))
        phone.says(".tonight .kit b", shown.more)
