"""Takes the pictures. Not a test: it is not collected by name, and says nothing about right or wrong."""

import os
from pathlib import Path

import pytest

from tests.browser.pages import PAGES, VIEWS
from tests.harness.browsers import DESK, PHONE
from tests.harness.people import signed_in

FOLDER = Path("pictures")
SCHEMES = ("light", "dark", "sun")
# What a browser loads only once somebody scrolls to it.
PHOTOS = """() => Promise.all([...document.querySelectorAll("img[loading=lazy]")].filter(each => each.checkVisibility())
  .map(each => { each.loading = "eager"; return each.decode(); }))"""
WANTED = os.environ.get("PICTURES_OF", "").split()


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_take(size: str, demo_site, browser) -> None:
    FOLDER.mkdir(exist_ok=True)
    options = PHONE if size == "phone" else DESK
    for page in (*PAGES, *VIEWS):
        if WANTED and page.name not in WANTED:
            continue
        for scheme in (os.environ.get("SCHEMES") or " ".join(SCHEMES)).split():
            context = browser.new_context(
                **options, locale="en-GB", timezone_id="Europe/London", reduced_motion="reduce"
            )
            signed_in(context, demo_site, page.who, scheme=scheme)
            tab = context.new_page()
            tab.goto(demo_site.address(page.path()) + (f"#{page.view}" if page.view else ""))
            if page.view:
                tab.wait_for_selector("main[data-whole]")
            if page.press:
                tab.click(page.press)
            tab.evaluate(PHOTOS)
            tab.screenshot(path=FOLDER / f"{page.name}.{size}.{scheme}.png", full_page=not page.screen)
            context.close()
