"""Hands on a keyboard alone: the tabulator, arrows, space and return; what has the focus must be seen to have it."""

from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Locator, Page

FURTHEST = 260
# What has the focus is on the screen, and something is drawn about it that is not there without the focus.
SEEN = """each => {
  const style = getComputedStyle(each), box = each.getBoundingClientRect();
  const drawn = (found) => found.outlineStyle !== "none" && parseFloat(found.outlineWidth) >= 2;
  const label = each.closest("label");
  const top = document.elementFromPoint(box.left + Math.min(box.width / 2, 20), box.top + Math.min(box.height / 2, 12));
  return (drawn(style) || (label && drawn(getComputedStyle(label)))) && top !== null
    && (each.contains(top) || top.contains(each));
}"""


@dataclass
class Keys:
    page: Page

    def to(self, target: Locator) -> None:
        """On to a field, link or button by the tabulator, as often as it takes."""
        element = target.first.element_handle()
        for _ in range(FURTHEST):
            self.page.keyboard.press("Tab")
            if element.evaluate("each => each === document.activeElement"):
                self.seen(element, target)
                return
        raise AssertionError(f"no key leads to {target}")

    def seen(self, element: Any, target: Locator) -> None:
        """Wait until it is scrolled to, and nothing lies over it (WCAG 2.2, 2.4.7 and 2.4.11)."""
        for _ in range(40):
            if element.evaluate(SEEN):
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"nobody sees that {target} has the focus")

    def press(self, target: Locator, key: str = "Enter") -> None:
        self.to(target)
        self.page.keyboard.press(key)

    def fill(self, name: str, text: str) -> None:
        """A text, or the choice of a list that begins with it."""
        self.to(self.page.locator(f'main [name="{name}"]'))
        self.page.keyboard.type(text)
