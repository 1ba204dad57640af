"""Sharing from a drill's page: the phone's own sheet where the browser has one, copy and download where it has none."""

import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.browser.addresses import drill, drill_video, session_tonight
from tests.harness.accessible import complaints
from tests.harness.browsers import PATIENCE_MS, PHONE
from tests.harness.people import signed_in

DIRECTOR = "director@demo.example"
TITLE = "Post and Return"
# What is handed to the sheet is written down; files are told by name, type and how many bytes.
SHEET = """
  window.shared = [];
  navigator.canShare = (data) => Boolean(data.files);
  navigator.share = async (data) => {
    const files = (data.files ?? []).map((each) => [each.name, each.type, each.size]);
    window.shared.push({ title: data.title, text: data.text, url: data.url, files });
  };
"""
NO_SHEET = "navigator.share = undefined; navigator.canShare = undefined;"
REFUSED = """
  navigator.canShare = () => true;
  navigator.share = async () => { throw new DOMException("", "NotAllowedError"); };
"""


@pytest.fixture
def at(demo_site: Any, browser: Any) -> Iterator[Callable[..., Any]]:
    """Opens a page on a phone that shares so; closes everything afterwards."""
    contexts = []

    def opened(path: str, sheet: str = SHEET, *, script: bool = True) -> Any:
        context = browser.new_context(**PHONE, locale="en-GB", java_script_enabled=script)
        context.set_default_timeout(PATIENCE_MS)
        context.add_init_script(sheet)
        contexts.append(context)
        signed_in(context, demo_site, DIRECTOR)
        page = context.new_page()
        page.goto(demo_site.address(path))
        return page

    yield opened
    for context in contexts:
        context.close()


def shared(page: Any) -> list[dict[str, Any]]:
    """What the sheet was handed. Asked from here: the page's own policy lets no text be run as script."""
    until = time.monotonic() + PATIENCE_MS / 1000
    while not (found := page.evaluate("window.shared")) and time.monotonic() < until:
        page.wait_for_timeout(50)
    return list(found)


def link_made(page: Any) -> str:
    page.click("#share > summary")
    page.get_by_role("button", name="Share a link").click()
    return str(page.locator("#link").input_value())


def test_the_link_goes_to_the_phones_own_sheet(at: Callable[..., Any]) -> None:
    page = at(drill(TITLE))
    link = link_made(page)
    assert "/library/shared/" in link
    page.get_by_role("button", name="Share…").click()
    assert shared(page) == [{"title": TITLE, "text": TITLE, "url": link, "files": []}]


def test_a_session_goes_to_it_by_a_link_that_opens_without_an_account(
    at: Callable[..., Any], demo_site: Any, browser: Any
) -> None:
    page = at(session_tonight())
    page.get_by_text("More", exact=True).click()
    page.get_by_role("link", name="Share it by a link").click()
    title = page.locator(".lead").inner_text()
    page.get_by_role("button", name="Share a link").click()
    link = str(page.locator("#link").input_value())
    page.get_by_role("button", name="Share…").click()
    assert shared(page) == [{"title": title, "text": title, "url": link, "files": []}]
    stranger = browser.new_context(**PHONE).new_page()
    stranger.goto(link)
    assert stranger.get_by_role("heading", level=1).inner_text() == title
    assert complaints(stranger, "a session by a link") == []
    assert stranger.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_role("link", name="Links that are open").click()
    page.get_by_role("button", name="Delete this link").click()
    page.get_by_text("That link opens nothing any more.").wait_for()
    stranger.reload()
    assert "opens nothing" in stranger.get_by_role("heading", level=1).inner_text()
    stranger.context.close()


def test_without_a_sheet_it_is_copied_and_without_scripts_it_can_be_marked(at: Callable[..., Any]) -> None:
    page = at(drill(TITLE), NO_SHEET)
    link_made(page)
    assert page.get_by_role("button", name="Share…").count() == 0
    assert page.get_by_role("button", name="Copy the link").is_visible()
    bare = at(drill(TITLE), NO_SHEET, script=False)
    bare.click("#share > summary")
    assert bare.get_by_role("button", name="Share the picture…").count() == 0
    assert bare.get_by_role("link", name="Download (PNG)").is_visible()
    bare.get_by_role("button", name="Share a link").click()
    assert "/library/shared/" in bare.locator("#link").input_value()
    assert bare.get_by_role("button").filter(has_text="Copy").count() == 0


def test_the_picture_is_shared_as_the_plan_is_turned(at: Callable[..., Any]) -> None:
    page = at(drill(TITLE))
    page.locator('[data-do="turn"]').click()
    page.wait_for_selector('svg[data-moving="90"]')
    page.click("#share > summary")
    assert "turn=90" in page.get_by_role("link", name="Download (PNG)").get_attribute("href")
    assert "turn=90" in page.locator("form[data-file]").get_attribute("action")
    page.get_by_role("button", name="Share the picture…").click()
    ((name, kind, size),) = shared(page)[0]["files"]
    assert (name, kind) == ("post-and-return.png", "image/png")
    assert size > 5000


def test_a_video_is_waited_for_and_shared(at: Callable[..., Any]) -> None:
    from drills.models import Video

    page = at(drill_video("working"))
    page.get_by_text("pictures").wait_for()
    Video.objects.update(state="done", file=b"mp4")
    page.get_by_role("button", name="Share the video…").click()  # it comes by itself
    assert shared(page)[0]["files"] == [["post-and-return.mp4", "video/mp4", 3]]


def test_what_a_phone_refuses_is_said_beside_the_button(at: Callable[..., Any]) -> None:
    page = at(drill_video("done"), REFUSED)
    page.get_by_role("button", name="Share the video…").click()
    page.get_by_text("It is ready: press Share once more.").wait_for()
