"""Nothing drawn is ever lost: a closed tab, no connection, two people at once."""

import os
import signal
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.at_the_sheet import Sheet


def kill_the_tab(drawn: Sheet, browser: Any) -> None:
    """End what draws the browser's pages, as the system does with a tab that it has no memory for."""
    found = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    with drawn.page.expect_event("crash"):
        for each in found:
            if each["type"] == "renderer":
                os.kill(each["id"], signal.SIGKILL)


@pytest.mark.parametrize("end", ["closed", "killed"])
def test_a_tab_that_is_gone_keeps_the_draft(sheet: Callable[..., Sheet], browser: Any, end: str) -> None:
    drawn = sheet()
    drawn.empty()
    drawn.press('[data-put="goal"]')
    drawn.tap(0, 8)
    drawn.page.close() if end == "closed" else kill_the_tab(drawn, browser)
    drawn.page = drawn.page.context.new_page()
    drawn.open()
    assert drawn.page.locator("#kept-words").inner_text().startswith("Your unsaved drawing of ")
    assert len(drawn.things()) > 1
    drawn.press("#kept-yes")
    expect(drawn.page.locator("#things button")).to_have_text(["Goal 1 · 0, 8 m"])
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    assert (drawn.saved()["goals"][0]["edge"], drawn.saved()["players"]) == ("left", [])
    drawn.open()
    expect(drawn.page.locator("#kept")).to_be_hidden()


def test_without_a_connection_the_drawing_is_kept(sheet: Callable[..., Sheet]) -> None:
    drawn = sheet()
    drawn.page.context.set_offline(True)
    drawn.press('[data-put="cone"]')
    drawn.tap(5, 5)
    drawn.press("#save")
    expect(drawn.page.locator("#hint")).to_contain_text("No connection")
    drawn.page.context.set_offline(False)
    drawn.press("#save")
    drawn.page.wait_for_url(drawn.site.address(f"/library/{drawn.drill.public_id}/"))
    assert (drawn.saved()["cones"][-1]["x_m"], drawn.saved()["cones"][-1]["y_m"]) == (5, 5)


def test_who_saves_second_sees_theirs_and_keeps_their_own(sheet: Callable[..., Sheet]) -> None:
    mine, theirs = sheet(), sheet()
    for each, x in ((theirs, 3), (mine, 17)):
        each.empty()
        each.press('[data-put="cone"]')
        each.tap(x, 3)
    theirs.press("#save")
    theirs.page.wait_for_url(theirs.site.address(f"/library/{theirs.drill.public_id}/"))
    mine.press("#save")
    expect(mine.page.locator("#theirs-words")).to_contain_text("Somebody else saved another plan")
    assert mine.page.locator("#theirs-plan svg [data-key=cone1]").count() == 1
    mine.press("#theirs-take")
    expect(mine.page.locator("#things button")).to_have_text(["Cone 1 · 3, 3 m"])
    mine.press("#undo")
    expect(mine.page.locator("#things button")).to_have_text(["Cone 1 · 17, 3 m"])
    mine.press("#save")
    mine.page.wait_for_url(mine.site.address(f"/library/{mine.drill.public_id}/"))
    assert mine.saved()["cones"][0]["x_m"] == 17
