"""Every page on a small phone, with text twice as large, and zoomed to 400 %: nothing leaves the screen.

WCAG 2.2: 1.4.4 (text to 200 %) and 1.4.10 (reflow: 320 × 256 CSS pixels, a screen of 1280 × 1024 at 400 %).
"""

from itertools import groupby
from typing import Any

import pytest

from tests.browser.pages import PAGES, VIEWS
from tests.harness.accessible import TOO_WIDE
from tests.harness.people import signed_in

SMALL = {"viewport": {"width": 320, "height": 568}, "has_touch": True, "is_mobile": True}
LARGE_TEXT = {"viewport": {"width": 360, "height": 740}}
ZOOMED = {"viewport": {"width": 320, "height": 256}}
# Text alone at 200 %: sizes are in rem, whose root is the reader's own.
TWICE = "document.documentElement.style.setProperty('font-size', '200%', 'important')"
PORTIONS = {f"every third from {number}": PAGES[number::3] for number in range(3)}


@pytest.mark.sweep
@pytest.mark.parametrize("portion", PORTIONS)
@pytest.mark.parametrize("size", ["small", "large text", "zoomed"])
def test_nothing_leaves_the_screen(portion: str, size: str, demo_site: Any, browser: Any) -> None:
    found: list[str] = []
    options = {"small": SMALL, "large text": LARGE_TEXT, "zoomed": ZOOMED}[size]
    pages = [*PORTIONS[portion], *(VIEWS if portion.endswith("0") else ())]
    for who, own in groupby(sorted(pages, key=lambda page: page.who), key=lambda page: page.who):
        context = browser.new_context(**options, locale="en-GB", reduced_motion="reduce")
        signed_in(context, demo_site, who)
        for page in own:
            tab = context.new_page()
            tab.goto(demo_site.address(page.path()) + (f"#{page.view}" if page.view else ""))
            tab.wait_for_selector("main:not(#pitch), #pitch[data-whole]")
            if size == "large text":
                tab.evaluate(TWICE)
            found += [f"{page.name}: {', '.join(wide)}" for wide in [tab.evaluate(TOO_WIDE)] if wide]
            tab.close()
        context.close()
    assert not found, "\n".join(found)
